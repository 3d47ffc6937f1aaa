import type { HeardNote } from '../../engine/index.ts';
import type { Followed } from './follow.worker.ts';

/** How long the last notes are waited for, milliseconds. */
const PATIENCE = 20_000;

/** Follows the notes of one recording in a worker; where there are no workers, it follows none. */
export class Following {
  readonly #worker: Worker | null;
  readonly #notes: HeardNote[] = [];
  #done: (() => void) | null = null;

  /**
   * @param rate samples a second
   * @param onNow told the key that sounds, with a fraction, and null when none does
   */
  constructor(rate: number, onNow: (key: number | null) => void) {
    this.#worker = open();
    this.#worker?.addEventListener('message', ({ data }: MessageEvent<Followed>) => {
      this.#notes.push(...data.notes);
      onNow(data.now);
      if (data.done) this.#done?.();
    });
    this.#worker?.postMessage(rate);
  }

  push(samples: Float32Array): void {
    this.#worker?.postMessage(samples);
  }

  /** All the notes, once the last is found. */
  async end(): Promise<readonly HeardNote[]> {
    if (this.#worker === null) return [];
    await new Promise<void>((resolve) => {
      this.#done = resolve;
      setTimeout(resolve, PATIENCE);
      this.#worker!.postMessage(null);
    });
    this.#worker.terminate();
    return this.#notes;
  }
}

function open(): Worker | null {
  try {
    return new Worker(new URL('./follow.worker.ts', import.meta.url), { type: 'module' });
  } catch {
    return null;
  }
}
