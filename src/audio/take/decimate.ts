/** Taps to either side of the middle, for each sample that is left. */
const REACH = 8;

/** Keeps every n-th sample, after a windowed sinc has taken away what would fold back. */
export class Decimator {
  readonly factor: number;
  /** By how many samples of the input the output lags behind. */
  readonly delay: number;
  readonly #taps: Float32Array;
  #tail: Float32Array;

  /** @param rate samples a second that come in */
  constructor(rate: number) {
    this.factor = Math.max(1, Math.round(rate / 24000));
    const reach = this.factor === 1 ? 0 : REACH * this.factor;
    this.delay = reach;
    this.#taps = Float32Array.from({ length: 2 * reach + 1 }, (_, i) => {
      const x = i - reach;
      const cutoff = 0.9 / this.factor;
      const sinc = x === 0 ? 1 : Math.sin(Math.PI * cutoff * x) / (Math.PI * cutoff * x);
      const window = reach === 0 ? 1 : 0.5 + 0.5 * Math.cos((Math.PI * x) / (reach + 1));
      return (reach === 0 ? 1 : cutoff) * sinc * window;
    });
    this.#tail = new Float32Array(2 * reach);
  }

  /** The samples that these bring; what is left over waits for the next. */
  push(samples: Float32Array): Float32Array {
    const { factor } = this;
    const taps = this.#taps;
    const all = new Float32Array(this.#tail.length + samples.length);
    all.set(this.#tail);
    all.set(samples, this.#tail.length);
    const count = Math.max(0, Math.floor((all.length - taps.length) / factor) + 1);
    const out = new Float32Array(count);
    for (let n = 0; n < count; n++) {
      let sum = 0;
      for (let k = 0; k < taps.length; k++) sum += taps[k]! * all[n * factor + k]!;
      out[n] = sum;
    }
    this.#tail = all.slice(count * factor);
    return out;
  }
}
