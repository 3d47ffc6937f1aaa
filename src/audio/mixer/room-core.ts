/**
 * Eight echo paths in a small room, seconds, in turn on the left and on the right: walls one and a half
 * to four and a half metres away, at 48 kHz prime numbers of frames, so that their echoes do not fall
 * together. Our choice.
 */
const PATHS = [443, 557, 683, 769, 887, 1009, 1151, 1277].map((frames) => frames / 48000);

/** Time in which the room's sound falls by 60 dB, seconds: a small, furnished room (our choice). */
const T60 = 0.45;
/**
 * Share of the frame before that is mixed into each echo: air and furniture swallow treble first. At
 * 48 kHz an echo loses 1.6 dB at 10 kHz (our choice).
 */
const BLUR = 0.3;
/** How much of their sum all paths reflect into each. */
const SHARE = 2 / PATHS.length;
/** Brings an impulse in both channels to unit energy in each ear, computed. */
const SCALE = 0.357;

/**
 * A room as a feedback delay network: every path's end feeds all paths through a reflection (a
 * Householder matrix, which keeps the energy), and loses what the room swallows. The same input gives
 * the same sound, to the bit. (J.-M. Jot and A. Chaigne, Digital delay networks for designing
 * artificial reverberators, AES 90th Convention, 1991.)
 */
export class Room {
  readonly #paths: readonly Path[];
  /** What is computed in one go: no path is shorter, so none hears itself within it. */
  readonly #chunk: number;
  readonly #reflected: Float64Array;
  readonly #quietFor: number;
  /** Frames of silence since something came in. */
  #silent = Infinity;

  constructor(sampleRate: number) {
    const lengths = PATHS.map((seconds) => Math.round(seconds * sampleRate));
    this.#chunk = Math.min(128, ...lengths);
    this.#paths = lengths.map((length, p) => new Path(length, this.#chunk, 10 ** ((-3 * PATHS[p]!) / T60)));
    this.#reflected = new Float64Array(this.#chunk);
    this.#quietFor = 2 * T60 * sampleRate;
  }

  /** Adds the room's answer to `left` and `right` to the outputs. All arrays are equally long. */
  add(left: Float32Array, right: Float32Array, outLeft: Float32Array, outRight: Float32Array): void {
    if (!this.#wakes(left, right)) return;
    for (let start = 0; start < left.length; start += this.#chunk) {
      const end = Math.min(left.length, start + this.#chunk);
      this.#reflected.fill(0);
      this.#paths.forEach((path, p) =>
        path.arrive(p % 2 === 0 ? outLeft : outRight, this.#reflected, start, end),
      );
      this.#paths.forEach((path, p) => path.depart(p % 2 === 0 ? left : right, this.#reflected, start, end));
    }
  }

  /** Forgets everything that has been played in it. */
  clear(): void {
    for (const path of this.#paths) path.clear();
    this.#silent = Infinity;
  }

  /** False when nothing comes in and nothing rings any more. */
  #wakes(left: Float32Array, right: Float32Array): boolean {
    const quiet = isSilent(left) && isSilent(right);
    this.#silent = quiet ? this.#silent + left.length : 0;
    if (this.#silent <= this.#quietFor) return true;
    if (this.#silent < Infinity) this.clear();
    return false;
  }
}

/** One echo path: a delay, a blur and a loss at its end, heard by one ear. */
class Path {
  readonly #line: Float32Array;
  readonly #mask: number;
  readonly #length: number;
  readonly #gain: number;
  /** What has arrived, to be sent on with what the other paths reflect. */
  readonly #arrived: Float64Array;
  #before = 0;
  #at = 0;

  constructor(length: number, chunk: number, gain: number) {
    this.#length = length;
    this.#line = new Float32Array(2 ** Math.ceil(Math.log2(length + chunk)));
    this.#mask = this.#line.length - 1;
    this.#gain = gain;
    this.#arrived = new Float64Array(chunk);
  }

  /** Takes what reaches the end: to an ear, and into `sum`. */
  arrive(ear: Float32Array, sum: Float64Array, start: number, end: number): void {
    const [line, mask, arrived] = [this.#line, this.#mask, this.#arrived];
    const [now, then] = [(1 - BLUR) * this.#gain, BLUR * this.#gain];
    let before = this.#before;
    let from = this.#at - this.#length;
    for (let i = start; i < end; i++) {
      const x = line[from++ & mask]!;
      const kept = now * x + then * before;
      before = x;
      arrived[i - start] = kept;
      sum[i - start]! += kept;
      ear[i]! += SCALE * x;
    }
    this.#before = before;
  }

  /** Sends in what comes new and what is reflected: the arrived less its share of the sum. */
  depart(input: Float32Array, sum: Float64Array, start: number, end: number): void {
    const [line, mask, arrived] = [this.#line, this.#mask, this.#arrived];
    let at = this.#at;
    for (let i = start; i < end; i++) {
      line[at++ & mask] = input[i]! + arrived[i - start]! - SHARE * sum[i - start]!;
    }
    this.#at = at & mask;
  }

  clear(): void {
    this.#line.fill(0);
    this.#before = 0;
  }
}

function isSilent(block: Float32Array): boolean {
  for (let i = 0; i < block.length; i++) if (block[i] !== 0) return false;
  return true;
}
