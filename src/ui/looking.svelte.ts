import { untrack } from 'svelte';
import { keepAwake } from './care.ts';
import { lookOften } from './often.ts';
import type { Playing } from './playing.svelte.ts';

/** Looks where the music is while there is music. To be called as a component is made. */
export function lookAlong(playing: Playing): void {
  $effect(() => (playing.on ? lookOften(() => playing.look()) : undefined));
}

/** Calls `look` at each beat, and when the band begins or stops. To be called as a component is made. */
export function lookEachBeat(playing: Playing, look: () => void): void {
  $effect(() => {
    if (playing.on) void playing.now;
    untrack(look);
  });
}

/** Keeps the screen awake while it is wanted. To be called as a component is made. */
export function stayAwake(wanted: () => boolean): void {
  $effect(() => {
    if (wanted()) return keepAwake();
  });
}
