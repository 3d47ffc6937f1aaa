/** Ratio to which the peak between samples is estimated. */
const OVERSAMPLING = 4;
/** Samples that go into each estimate; the point estimated lies between the two in the middle. */
const TAPS = 12;
/** Frames looked at together when asking whether an estimate can matter. */
const GROUP = 16;

export interface LimiterOptions {
  /** Hz. */
  readonly sampleRate: number;
  /** The largest magnitude let through, as a factor of full scale. */
  readonly ceiling: number;
  /** How long before a peak the gain begins to fall, seconds. */
  readonly lookahead: number;
  /** Time constant with which the gain comes back, seconds. */
  readonly release: number;
}

/**
 * How many frames a limiter with these options delays the sound: the look-ahead and, so that every
 * sample that shapes a peak already has its gain, the taps of the estimate.
 */
export const limiterDelay = (options: Pick<LimiterOptions, 'sampleRate' | 'lookahead'>) =>
  lookaheadFrames(options) + TAPS - 1;

const lookaheadFrames = (options: Pick<LimiterOptions, 'sampleRate' | 'lookahead'>) =>
  Math.max(1, Math.round(options.lookahead * options.sampleRate));

/**
 * A limiter for the whole band that looks ahead and counts the peaks between samples, too (ITU-R
 * BS.1770, annex 2: true peak by fourfold oversampling). The gain needed is held and then averaged
 * over the look-ahead, so that it has reached its lowest point when the peak arrives and never jumps.
 * Both channels share it, so that the image stays where it is.
 */
export class Limiter {
  readonly #ceiling: number;
  /** No sum of taps exceeds its largest sample by more than this factor. */
  readonly #overshoot: number;
  readonly #delay: Delay;
  readonly #left = new Window();
  readonly #right = new Window();
  readonly #smooth: GainSmoother;

  constructor(options: LimiterOptions) {
    const average = lookaheadFrames(options);
    this.#ceiling = options.ceiling;
    this.#overshoot = Math.max(...INTERPOLATORS.map((taps) => taps.reduce((sum, x) => sum + Math.abs(x), 0)));
    this.#delay = new Delay(limiterDelay(options));
    this.#smooth = new GainSmoother(
      average,
      average + TAPS + 1,
      1 - Math.exp(-1 / (options.release * options.sampleRate)),
    );
  }

  /** Limits one block. All four arrays are equally long; input and output may be the same. */
  process(left: Float32Array, right: Float32Array, outLeft: Float32Array, outRight: Float32Array): void {
    const frames = left.length;
    this.#left.push(left);
    this.#right.push(right);
    this.#delay.process(left, right, outLeft, outRight);
    const safe = this.#ceiling / this.#overshoot;
    for (let start = 0; start < frames; start += GROUP) {
      const end = Math.min(frames, start + GROUP);
      const loud = Math.max(this.#left.loudest(start, end), this.#right.loudest(start, end)) >= safe;
      if (!loud && this.#smooth.atRest) continue;
      for (let i = start; i < end; i++) {
        const peak = loud ? Math.max(this.#left.peak(i), this.#right.peak(i)) : 0;
        const gain = this.#smooth.next(peak > this.#ceiling ? this.#ceiling / peak : 1);
        outLeft[i]! *= gain;
        outRight[i]! *= gain;
      }
    }
  }
}

/** For each point between two samples, a sinc under a Hann window, scaled to pass a constant unchanged. */
const INTERPOLATORS: readonly Float32Array[] = Array.from({ length: OVERSAMPLING - 1 }, (_, phase) => {
  const taps = Float32Array.from({ length: TAPS }, (__, k) => {
    const off = k - (TAPS / 2 - 1) - (phase + 1) / OVERSAMPLING;
    return (
      (Math.sin(Math.PI * off) / (Math.PI * off)) * (0.5 + 0.5 * Math.cos((Math.PI * off) / (TAPS / 2 + 0.5)))
    );
  });
  const total = taps.reduce((sum, x) => sum + x, 0);
  return taps.map((x) => x / total);
});

/** One channel's block with the samples before it that its first estimates need. */
class Window {
  #frames = 128;
  #samples = new Float32Array(TAPS - 1 + this.#frames);

  push(block: Float32Array): void {
    const last = this.#samples.subarray(this.#frames);
    if (block.length === this.#frames) {
      this.#samples.copyWithin(0, this.#frames);
    } else {
      this.#frames = block.length;
      this.#samples = new Float32Array(TAPS - 1 + this.#frames);
      this.#samples.set(last);
    }
    this.#samples.set(block, TAPS - 1);
  }

  /** The largest magnitude that takes part in the estimates for frames `start` to `end`. */
  loudest(start: number, end: number): number {
    let most = 0;
    for (let i = start; i < end + TAPS - 1; i++) {
      const x = Math.abs(this.#samples[i]!);
      if (x > most) most = x;
    }
    return most;
  }

  /** The largest magnitude at and after the sample in the middle of the taps that end at frame `i`. */
  peak(i: number): number {
    let peak = Math.abs(this.#samples[i + TAPS / 2 - 1]!);
    for (const taps of INTERPOLATORS) {
      let sum = 0;
      for (let k = 0; k < TAPS; k++) sum += taps[k]! * this.#samples[i + k]!;
      if (sum > peak) peak = sum;
      else if (-sum > peak) peak = -sum;
    }
    return peak;
  }
}

/** A stereo delay by a fixed number of frames. */
class Delay {
  readonly #left: Float32Array;
  readonly #right: Float32Array;
  #at = 0;

  constructor(frames: number) {
    this.#left = new Float32Array(frames);
    this.#right = new Float32Array(frames);
  }

  process(left: Float32Array, right: Float32Array, outLeft: Float32Array, outRight: Float32Array): void {
    for (let i = 0; i < left.length; i++) {
      const [l, r] = [left[i]!, right[i]!];
      outLeft[i] = this.#left[this.#at]!;
      outRight[i] = this.#right[this.#at]!;
      this.#left[this.#at] = l;
      this.#right[this.#at] = r;
      if (++this.#at === this.#left.length) this.#at = 0;
    }
  }
}

/** Turns the gains needed into gains applied: at once down, held, slowly up, then averaged. */
class GainSmoother {
  readonly #average: number;
  readonly #hold: number;
  readonly #recover: number;
  #frame = 0;
  #envelope = 1;
  /** Frames for which everything remembered has been 1. */
  #calm = Infinity;
  /** Gains not yet undercut by a later one, with their frames: a queue of rising minima. */
  readonly #minima: Float64Array;
  readonly #minimaAt: Float64Array;
  #first = 0;
  #count = 0;
  readonly #held: Float64Array;
  #sum: number;

  constructor(average: number, hold: number, recover: number) {
    this.#average = average;
    this.#hold = hold;
    this.#recover = recover;
    this.#minima = new Float64Array(hold + 1);
    this.#minimaAt = new Float64Array(hold + 1);
    this.#held = new Float64Array(average).fill(1);
    this.#sum = average;
  }

  /** True when the gain is 1 and stays so for as long as 1 is needed. */
  get atRest(): boolean {
    return this.#calm > this.#hold + this.#average;
  }

  next(needed: number): number {
    if (this.atRest) {
      this.#count = 0;
      this.#held.fill(1);
      this.#sum = this.#average;
    }
    const risen = this.#envelope + (1 - this.#envelope) * this.#recover;
    this.#envelope = Math.min(needed, risen > 1 - 1e-5 ? 1 : risen);
    this.#calm = this.#envelope < 1 ? 0 : this.#calm + 1;
    const held = this.#lowest(this.#envelope);
    const place = this.#frame % this.#average;
    this.#sum += held - this.#held[place]!;
    this.#held[place] = held;
    this.#frame++;
    return Math.min(1, this.#sum / this.#average);
  }

  /** The lowest of the last `hold` gains, `gain` among them. */
  #lowest(gain: number): number {
    const size = this.#minima.length;
    while (this.#count > 0 && this.#minima[(this.#first + this.#count - 1) % size]! >= gain) this.#count--;
    const last = (this.#first + this.#count) % size;
    this.#minima[last] = gain;
    this.#minimaAt[last] = this.#frame;
    this.#count++;
    while (this.#minimaAt[this.#first]! <= this.#frame - this.#hold) {
      this.#first = (this.#first + 1) % size;
      this.#count--;
    }
    return this.#minima[this.#first]!;
  }
}
