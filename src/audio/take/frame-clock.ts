/** Frames of a render quantum (Web Audio API, 1.0: "render quantum size"). */
export const QUANTUM = 128;

/**
 * Counts the frames of the audio clock within an audio worklet, where `currentFrame` can stand still:
 * Chromium leaves it as it is in a quantum in which another thread holds the lock on the audio graph (seen in
 * Chromium 156 while many notes were scheduled: up to four quanta of one number, then a leap). Quanta follow
 * each other without a gap, so the number is never lower than one quantum after the last.
 */
export class FrameClock {
  #last = -Infinity;

  /** The frame at which the quantum that is processed now begins. Called once in each. */
  next(currentFrame: number): number {
    this.#last = Math.max(currentFrame, this.#last + QUANTUM);
    return this.#last;
  }
}
