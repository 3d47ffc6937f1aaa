import { Limiter, type LimiterOptions } from './limiter-core.ts';
import { Room } from './room-core.ts';

/** What an audio worklet's global scope offers; the DOM library does not declare it. */
declare const sampleRate: number;
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

const SILENCE = new Float32Array(128);

/** The way out: input 0 is the band, input 1 what of it the room hears; both leave through the limiter. */
class Output extends AudioWorkletProcessor {
  readonly #limiter: Limiter;
  readonly #room = new Room(sampleRate);
  /** When the room is to forget what was played in it, seconds. */
  #clearAt = Infinity;

  constructor({ processorOptions }: Options) {
    super();
    this.#limiter = new Limiter(processorOptions);
    this.port.onmessage = ({ data }: MessageEvent<number>) => (this.#clearAt = data);
  }

  process([band, send]: Float32Array[][], [output]: Float32Array[][]): boolean {
    if (currentTime >= this.#clearAt) {
      this.#room.clear();
      this.#clearAt = Infinity;
    }
    const [left, right] = output as [Float32Array, Float32Array];
    left.set(band?.[0] ?? SILENCE);
    right.set(band?.[1] ?? band?.[0] ?? SILENCE);
    this.#room.add(send?.[0] ?? SILENCE, send?.[1] ?? send?.[0] ?? SILENCE, left, right);
    this.#limiter.process(left, right, left, right);
    return true;
  }
}

registerProcessor('output', Output);
