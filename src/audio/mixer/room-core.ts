/**
 * Eight echo paths in a small room, seconds, four that end at the left ear and four at the right: walls
 * one and a half to four and a half metres away, at 48 kHz prime numbers of frames, so that their echoes
 * do not fall together. Our choice.
 */
const PATHS = {
  left: [443, 683, 887, 1151].map((frames) => frames / 48000),
  right: [557, 769, 1009, 1277].map((frames) => frames / 48000),
} as const;

/** Time in which the room's sound falls by 60 dB, seconds: a small, furnished room (our choice). */
const T60 = 0.45;
/**
 * Share of the frame before that is mixed into each echo: air and furniture swallow treble first. At
 * 48 kHz an echo loses 1.6 dB at 10 kHz (our choice).
 */
const BLUR = 0.3;
/** How much of their sum all paths reflect into each. */
const SHARE = 2 / 8;
/** Brings an impulse in both channels to unit energy in each ear, computed. */
const SCALE = 0.357;

/**
 * A room as a feedback delay network: every path's end feeds all paths through a reflection (a
 * Householder matrix, which keeps the energy), and loses what the room swallows. The same input gives
 * the same sound, to the bit. (J.-M. Jot and A. Chaigne, Digital delay networks for designing
 * artificial reverberators, AES 90th Convention, 1991.)
 */
export class Room {
  readonly #left: Side;
  readonly #right: Side;
  /** What is computed in one go: no path is shorter, so none hears itself within it. */
  readonly #chunk: number;
  readonly #arrived: Float64Array;
  readonly #quietFor: number;
  /** Frames of silence since something came in. */
  #silent = Infinity;

  constructor(sampleRate: number) {
    this.#chunk = Math.min(128, Math.round(PATHS.left[0]! * sampleRate));
    this.#left = new Side(PATHS.left, sampleRate, this.#chunk);
    this.#right = new Side(PATHS.right, sampleRate, this.#chunk);
    this.#arrived = new Float64Array(this.#chunk);
    this.#quietFor = 2 * T60 * sampleRate;
  }

  /** Adds the room's answer to `left` and `right` to the outputs. All arrays are equally long. */
  add(left: Float32Array, right: Float32Array, outLeft: Float32Array, outRight: Float32Array): void {
    if (!this.#wakes(left, right)) return;
    for (let start = 0; start < left.length; start += this.#chunk) {
      const end = Math.min(left.length, start + this.#chunk);
      this.#arrived.fill(0);
      this.#left.arrive(outLeft, this.#arrived, start, end);
      this.#right.arrive(outRight, this.#arrived, start, end);
      this.#left.depart(left, this.#arrived, start, end);
      this.#right.depart(right, this.#arrived, start, end);
    }
  }

  /** Forgets everything that has been played in it. */
  clear(): void {
    this.#left.clear();
    this.#right.clear();
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

/** One value for each path of a side. */
type Four<T> = [T, T, T, T];

const four = <T>(make: (path: 0 | 1 | 2 | 3) => T): Four<T> => [make(0), make(1), make(2), make(3)];

/**
 * The paths that end at one ear, each a delay, then a blur and a loss. The four are written out: in one
 * loop they take two thirds of the time.
 */
class Side {
  readonly #lines: Four<Float32Array>;
  readonly #lengths: Four<number>;
  readonly #gains: Four<number>;
  readonly #mask: number;
  /** What has arrived on each path, to be sent on with what all paths reflect. */
  readonly #kept: Four<Float64Array>;
  /** The last frame that arrived on each path. */
  #before: Four<number> = [0, 0, 0, 0];
  #at = 0;

  constructor(seconds: readonly number[], sampleRate: number, chunk: number) {
    this.#lengths = four((path) => Math.round(seconds[path]! * sampleRate));
    this.#gains = four((path) => 10 ** ((-3 * seconds[path]!) / T60));
    const size = 2 ** Math.ceil(Math.log2(Math.max(...this.#lengths) + chunk));
    this.#mask = size - 1;
    this.#lines = four(() => new Float32Array(size));
    this.#kept = four(() => new Float64Array(chunk));
  }

  /** Takes what reaches the ends: to the ear, and into `arrived`, the sum of all paths. */
  arrive(ear: Float32Array, arrived: Float64Array, start: number, end: number): void {
    const mask = this.#mask;
    const [lineA, lineB, lineC, lineD] = this.#lines;
    const [keptA, keptB, keptC, keptD] = this.#kept;
    const [gainA, gainB, gainC, gainD] = this.#gains;
    let [beforeA, beforeB, beforeC, beforeD] = this.#before;
    let [fromA, fromB, fromC, fromD] = four((path) => this.#at - this.#lengths[path]);
    for (let i = start; i < end; i++) {
      const a = lineA[fromA++ & mask]!;
      const b = lineB[fromB++ & mask]!;
      const c = lineC[fromC++ & mask]!;
      const d = lineD[fromD++ & mask]!;
      ear[i]! += SCALE * (a + b + c + d);
      const frame = i - start;
      const restA = (keptA[frame] = gainA * (a + BLUR * (beforeA - a)));
      const restB = (keptB[frame] = gainB * (b + BLUR * (beforeB - b)));
      const restC = (keptC[frame] = gainC * (c + BLUR * (beforeC - c)));
      const restD = (keptD[frame] = gainD * (d + BLUR * (beforeD - d)));
      arrived[frame]! += restA + restB + restC + restD;
      beforeA = a;
      beforeB = b;
      beforeC = c;
      beforeD = d;
    }
    this.#before = [beforeA, beforeB, beforeC, beforeD];
  }

  /** Sends in what comes new and what is reflected: what each path kept, less a share of the sum. */
  depart(input: Float32Array, arrived: Float64Array, start: number, end: number): void {
    const mask = this.#mask;
    const [lineA, lineB, lineC, lineD] = this.#lines;
    const [keptA, keptB, keptC, keptD] = this.#kept;
    let at = this.#at;
    for (let i = start; i < end; i++) {
      const frame = i - start;
      const place = at++ & mask;
      const common = input[i]! - SHARE * arrived[frame]!;
      lineA[place] = common + keptA[frame]!;
      lineB[place] = common + keptB[frame]!;
      lineC[place] = common + keptC[frame]!;
      lineD[place] = common + keptD[frame]!;
    }
    this.#at = at & mask;
  }

  clear(): void {
    for (const line of this.#lines) line.fill(0);
    this.#before = [0, 0, 0, 0];
  }
}

function isSilent(block: Float32Array): boolean {
  for (let i = 0; i < block.length; i++) if (block[i] !== 0) return false;
  return true;
}
