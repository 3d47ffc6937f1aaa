import { Limiter, type LimiterOptions } from './limiter-core.ts';
import { Room } from './room-core.ts';

/** Left and right, equally long. */
type Stereo = readonly [Float32Array, Float32Array];

/** The end of the sound's way, live and in a file: the room answers, and the limiter takes the sum. */
export class Finish {
  readonly #room: Room;
  readonly #limiter: Limiter;

  constructor(options: LimiterOptions) {
    this.#room = new Room(options.sampleRate);
    this.#limiter = new Limiter(options);
  }

  /**
   * Finishes one block in its place. All arrays are equally long.
   * @param band what is heard of the parts; what leaves takes its place, later by the limiter's delay
   * @param send what of it the room hears
   */
  process([left, right]: Stereo, [sendLeft, sendRight]: Stereo): void {
    this.#room.add(sendLeft, sendRight, left, right);
    this.#limiter.process(left, right, left, right);
  }

  /** Makes the room forget what was played in it. */
  clear(): void {
    this.#room.clear();
  }
}
