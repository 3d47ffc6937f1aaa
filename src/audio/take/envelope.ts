/** Length of a look at the loudness, seconds. */
const STEP = 0.00133;
/** How far the loudness must rise for a new stroke, as a factor of power: about 7 dB (our choice, by measure). */
const RISE = 5;
/** Steps that are compared: the latest few with those from a moment ago. */
const [FAST, GAP, SLOW] = [2, 2, 14];
/** Two strokes are at least this far apart, seconds: faster than a picked sixteenth at 300. */
const APART = 0.045;

/** How far it must rise where the pitch says that a note has begun: about 1 dB. */
const SLIGHT = 1.3;
/** Steps that are remembered. */
const REMEMBERED = 96;

/** Finds where a string is struck: a sudden rise of what is high in the sound. */
export class Strokes {
  readonly #step: number;
  readonly #apart: number;
  /** The power of the latest steps, oldest first. */
  readonly #powers = new Float32Array(REMEMBERED);
  #last = 0;
  #before = 0;
  #sum = 0;
  #filled = 0;
  /** Samples seen. */
  #seen = 0;
  #until = 0;

  constructor(rate: number) {
    this.#step = Math.max(1, Math.round(STEP * rate));
    this.#apart = APART * rate;
  }

  /**
   * @param floor power that counts as silence
   * @returns the samples at which strokes begin, counted from the first ever pushed
   */
  push(samples: Float32Array, floor: number): number[] {
    const found: number[] = [];
    for (const x of samples) {
      // The second difference lets the attack through and holds back what rings.
      const high = x - 2 * this.#last + this.#before;
      this.#before = this.#last;
      this.#last = x;
      this.#sum += high * high;
      this.#seen++;
      if (++this.#filled < this.#step) continue;
      this.#powers.copyWithin(0, 1);
      this.#powers[this.#powers.length - 1] = this.#sum / this.#step;
      this.#sum = 0;
      this.#filled = 0;
      const at = this.#rise(floor);
      if (at === null) continue;
      this.#until = this.#seen + this.#apart;
      found.push(at);
    }
    return found;
  }

  /**
   * Where, between two samples of late, the loudness rose most: the softest strokes, of which the pitch
   * tells first.
   * @returns null where it has not risen
   */
  slightest(from: number, to: number): number | null {
    let [best, at] = [SLIGHT, null as number | null];
    for (let end = REMEMBERED; end >= FAST + GAP + SLOW; end--) {
      const begin = this.#startOf(end);
      if (begin < from || begin > to) continue;
      const { fast, slow } = this.#compare(end);
      if (fast > best * slow) [best, at] = [fast / slow, begin];
    }
    return at;
  }

  #rise(floor: number): number | null {
    const { fast, slow } = this.#compare(REMEMBERED);
    if (this.#seen < this.#until || fast < floor || fast < RISE * slow) return null;
    // Back to the step in which the rise began.
    const half = Math.max(slow * 2, fast * 0.1);
    let back = 0;
    while (back < FAST + GAP && this.#powers[REMEMBERED - 1 - back]! > half) back++;
    return Math.max(0, this.#seen - back * this.#step);
  }

  /** The power of the last steps before `end`, and of those from a moment before. */
  #compare(end: number): { fast: number; slow: number } {
    let [fast, slow] = [0, 0];
    for (let i = end - FAST; i < end; i++) fast += this.#powers[i]! / FAST;
    for (let i = end - FAST - GAP - SLOW; i < end - FAST - GAP; i++) slow += this.#powers[i]! / SLOW;
    return { fast, slow };
  }

  /** The sample at which the fast steps before `end` began. */
  #startOf(end: number): number {
    return this.#seen - this.#filled - (REMEMBERED - end + FAST) * this.#step;
  }
}
