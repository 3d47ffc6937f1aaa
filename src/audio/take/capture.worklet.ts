import { FrameClock, QUANTUM } from './frame-clock.ts';

/** What an audio worklet's global scope offers; the DOM library does not declare it. */
declare const currentFrame: number;
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
declare function registerProcessor(name: string, processor: new () => AudioWorkletProcessor): void;

/** Frames that are handed on at a time. */
const BLOCK = 2048;

/** Hands on what the microphone hears, in blocks, each with the frame of the audio clock it begins at. It gives no sound. */
class Capture extends AudioWorkletProcessor {
  #block = new Float32Array(BLOCK);
  #filled = 0;
  readonly #clock = new FrameClock();

  process([input]: Float32Array[][]): boolean {
    const begins = this.#clock.next(currentFrame);
    const heard = input?.[0];
    if (heard === undefined) this.#block.fill(0, this.#filled, this.#filled + QUANTUM);
    else this.#block.set(heard, this.#filled);
    this.#filled += heard?.length ?? QUANTUM;
    if (this.#filled < BLOCK) return true;
    const frame = begins + QUANTUM - BLOCK;
    this.port.postMessage({ frame, samples: this.#block }, [this.#block.buffer]);
    this.#block = new Float32Array(BLOCK);
    this.#filled = 0;
    return true;
  }
}

registerProcessor('capture', Capture);
