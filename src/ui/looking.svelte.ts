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
