import { Finish } from './finish-core.ts';
import type { LimiterOptions } from './limiter-core.ts';

/** What an audio worklet's global scope offers; the DOM library does not declare it. */
declare const currentTime: number;
declare class AudioWorkletProcessor {
  readonly port: MessagePort;
}
interface Options {
  readonly processorOptions: LimiterOptions;
}
declare function registerProcessor(
  name: string,
  processor: new (options: Options) => AudioWorkletProcessor,
): void;

/** The way out: input 0 is the band, input 1 what of it the room hears; both leave through the limiter. */
class Output extends AudioWorkletProcessor {
  readonly #finish: Finish;
  /** As long as a block. */
  #silence = new Float32Array(128);
  /** When the room is to forget what was played in it, seconds. */
  #clearAt = Infinity;

  constructor({ processorOptions }: Options) {
    super();
    this.#finish = new Finish(processorOptions);
    this.port.onmessage = ({ data }: MessageEvent<number>) => (this.#clearAt = data);
  }

  process([band, send]: Float32Array[][], [output]: Float32Array[][]): boolean {
    if (currentTime >= this.#clearAt) {
      this.#finish.clear();
      this.#clearAt = Infinity;
    }
    const [left, right] = output as [Float32Array, Float32Array];
    if (this.#silence.length !== left.length) this.#silence = new Float32Array(left.length);
    const [bandLeft = this.#silence, bandRight = bandLeft] = band ?? [];
    const [sendLeft = this.#silence, sendRight = sendLeft] = send ?? [];
    left.set(bandLeft);
    right.set(bandRight);
    this.#finish.process([left, right], [sendLeft, sendRight]);
    return true;
  }
}

registerProcessor('output', Output);
