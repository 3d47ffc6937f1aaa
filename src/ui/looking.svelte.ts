import { untrack } from 'svelte';
import { keepAwake } from './care.ts';
import type { Playing } from './playing.svelte.ts';

/** Looks where the music is once a frame, while there is music. To be called as a component is made. */
export function lookEachFrame(playing: Playing): void {
  $effect(() => {
    if (!playing.on) return;
    let frame = requestAnimationFrame(function look() {
      frame = requestAnimationFrame(look);
      playing.look();
    });
    return () => cancelAnimationFrame(frame);
  });
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
