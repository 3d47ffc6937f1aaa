import { Finish, limiterDelay, limiterFor } from './mixer/index.ts';
import type { Dry } from './render-piece.ts';

/** Frames finished in one go: a few milliseconds of work, so that the page and the music go on. */
const CHUNK = 32768;

/** Joins the pieces of a render, in order, and takes them through room and limiter into one sound. */
export class Finishing {
  /** By how many frames more than the sound has the pieces are longer: the limiter holds them back. */
  readonly delay: number;
  readonly #sound: AudioBuffer;
  readonly #finish: Finish;
  readonly #joint: number;
  /** What the last piece has for the beginning of the next. */
  #over: Dry | null = null;
  #at = 0;

  /**
   * @param sound of two channels; what is finished is written into it
   * @param joint frames over which one piece gives way to the next
   */
  constructor(sound: AudioBuffer, joint: number) {
    const limiter = limiterFor(sound.sampleRate);
    this.delay = limiterDelay(limiter);
    this.#sound = sound;
    this.#finish = new Finish(limiter);
    this.#joint = joint;
  }

  /**
   * Finishes the next piece, in its place, chunk by chunk.
   * @param isLast whether none comes after it; the others are longer by the joint
   * @returns after each chunk, the share of the piece that is done
   */
  *add(piece: Dry, isLast: boolean): Generator<number> {
    if (this.#over !== null) join(this.#over, piece);
    const length = piece.band[0].length - (isLast ? 0 : this.#joint);
    this.#over = isLast ? null : cut(piece, length, length + this.#joint);
    for (let start = 0; start < length; start += CHUNK) {
      const end = Math.min(length, start + CHUNK);
      this.#write(cut(piece, start, end));
      yield end / length;
    }
  }

  #write({ band, send }: Dry): void {
    this.#finish.process(band, send);
    const early = Math.min(band[0].length, Math.max(0, this.delay - this.#at));
    band.forEach((samples, channel) => {
      this.#sound.copyToChannel(samples.subarray(early), channel, this.#at + early - this.delay);
    });
    this.#at += band[0].length;
  }
}

/** Lets the beginning of a piece come in as what the piece before has for it goes out. */
function join(before: Dry, { band, send }: Dry): void {
  const pairs = [...before.band, ...before.send].map((out, i) => [out, [...band, ...send][i]!] as const);
  for (const [out, into] of pairs) {
    out.forEach((x, i) => (into[i] = x + (into[i]! - x) * ((i + 1) / (out.length + 1))));
  }
}

function cut({ band, send }: Dry, from: number, to: number): Dry {
  return {
    band: [band[0].subarray(from, to), band[1].subarray(from, to)],
    send: [send[0].subarray(from, to), send[1].subarray(from, to)],
  };
}
