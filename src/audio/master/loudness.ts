/** Seconds of sound that are measured together, and how far apart these blocks begin (ITU-R BS.1770-5). */
const BLOCK = 0.4;
const STEP = 0.1;
const STEPS = Math.round(BLOCK / STEP);
/** Blocks below this, LUFS, and below the mean of the others by this, LU, do not count (the same). */
const ABSOLUTE_GATE = -70;
const RELATIVE_GATE = -10;
const OFFSET = -0.691;

/**
 * Integrated loudness of a stereo sound by ITU-R BS.1770-5: both channels through the two filters of
 * the standard, mean power in overlapping blocks, the quiet ones left out.
 */
export class LoudnessMeter {
  readonly #left: Weighting;
  readonly #right: Weighting;
  readonly #stepFrames: number;
  /** Power of each finished step, both channels summed. */
  readonly #steps: number[] = [];
  #sum = 0;
  #frames = 0;

  constructor(sampleRate: number) {
    this.#left = new Weighting(sampleRate);
    this.#right = new Weighting(sampleRate);
    this.#stepFrames = Math.round(STEP * sampleRate);
  }

  /** Takes the next samples in, equally many of each channel; `gain` is a factor on all of them. */
  add(left: Float32Array, right: Float32Array, gain = 1): void {
    for (let i = 0; i < left.length; i++) {
      const l = this.#left.next(left[i]! * gain);
      const r = this.#right.next(right[i]! * gain);
      this.#sum += l * l + r * r;
      if (++this.#frames < this.#stepFrames) continue;
      this.#steps.push(this.#sum / this.#stepFrames);
      [this.#sum, this.#frames] = [0, 0];
    }
  }

  /** LUFS of all that has come in; -Infinity where nothing is loud enough to count. */
  get integrated(): number {
    const blocks = this.#steps
      .slice(STEPS - 1)
      .map((_, i) => mean(this.#steps.slice(i, i + STEPS)))
      .filter((power) => lufs(power) >= ABSOLUTE_GATE);
    if (blocks.length === 0) return -Infinity;
    const gate = lufs(mean(blocks)) + RELATIVE_GATE;
    return lufs(mean(blocks.filter((power) => lufs(power) >= gate)));
  }
}

const lufs = (power: number) => OFFSET + 10 * Math.log10(power);
const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / values.length;

/**
 * The filters' analogue shapes, computed from the coefficients the standard gives for 48 kHz (as the
 * free library libebur128 does; its figures, from memory): a shelf for the head, a high-pass below it.
 */
const HEAD = { frequency: 1681.974450955533, gain: 3.999843853973347, q: 0.7071752369554196 };
const LOW_CUT = { frequency: 38.13547087602444, q: 0.5003270373238773 };

/** One channel's way through the two filters. */
class Weighting {
  readonly #head: Biquad;
  readonly #lowCut: Biquad;

  constructor(sampleRate: number) {
    const k = Math.tan((Math.PI * HEAD.frequency) / sampleRate);
    const high = 10 ** (HEAD.gain / 20);
    const band = high ** 0.4996667741545416;
    const a0 = 1 + k / HEAD.q + k * k;
    this.#head = new Biquad(
      (high + (band * k) / HEAD.q + k * k) / a0,
      (2 * (k * k - high)) / a0,
      (high - (band * k) / HEAD.q + k * k) / a0,
      (2 * (k * k - 1)) / a0,
      (1 - k / HEAD.q + k * k) / a0,
    );
    const c = Math.tan((Math.PI * LOW_CUT.frequency) / sampleRate);
    const norm = 1 + c / LOW_CUT.q + c * c;
    this.#lowCut = new Biquad(1, -2, 1, (2 * (c * c - 1)) / norm, (1 - c / LOW_CUT.q + c * c) / norm);
  }

  next(x: number): number {
    return this.#lowCut.next(this.#head.next(x));
  }
}

/** A filter of second order, direct form II transposed. */
class Biquad {
  readonly #b0: number;
  readonly #b1: number;
  readonly #b2: number;
  readonly #a1: number;
  readonly #a2: number;
  #first = 0;
  #second = 0;

  constructor(b0: number, b1: number, b2: number, a1: number, a2: number) {
    this.#b0 = b0;
    this.#b1 = b1;
    this.#b2 = b2;
    this.#a1 = a1;
    this.#a2 = a2;
  }

  next(x: number): number {
    const y = this.#b0 * x + this.#first;
    this.#first = this.#b1 * x - this.#a1 * y + this.#second;
    this.#second = this.#b2 * x - this.#a2 * y;
    return y;
  }
}
