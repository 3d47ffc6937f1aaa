import type { HeardNote } from '../../engine/index.ts';
import { Decimator } from './decimate.ts';
import { Strokes } from './envelope.ts';
import { CLEAR, noteOf, type Frame } from './note.ts';
import { isOneString } from './partials.ts';
import { Yin } from './yin.ts';

/** Seconds between looks. */
const HOP = 0.0053;
/** A pitch that holds for so many looks without a stroke is another note: slurred, or slid to. */
const HELD = 10;
/** How near looks of one pitch lie to each other, and how little it drifts from half to half, semitones. */
const [NEAR, DRIFT] = [0.4, 0.12];
/** Silence, as a root mean square: never lower or higher, and this much above the quietest of late. */
const FLOOR = { least: 10 ** (-62 / 20), most: 10 ** (-42 / 20), above: 3 } as const;
/** A note is over when it has fallen this far below its loudest: 34 dB. */
const FALLEN = 10 ** (-34 / 20);
/** How long one note may ring over the next, and how long both together are a muddle, seconds. */
const [RINGING, MUDDLED] = [0.15, 0.06];
/** How much louder than the silence before it a note without a stroke is. */
const SWELL = 2;
/** Seconds of a note in which its partials are weighed, at most. */
const LONG = 0.15;
/** Keys between a pitch and what is mistaken for it as a string dies away: octave, twelfth, two octaves. */
const MISTAKEN: readonly number[] = [12, 19, 24];

/**
 * Follows one string at a time through a recording, as it comes in: strokes by the loudness, pitch by
 * {@link Yin}. Where several notes sound together it says so and does not guess.
 */
export class Follower {
  readonly #decimator: Decimator;
  readonly #rate: number;
  readonly #hop: number;
  readonly #yin: Yin;
  readonly #strokes: Strokes;
  /** The sound from sample `#start` on. */
  #sound = new Float32Array(0);
  #start = 0;
  #next = 0;
  #frames: Frame[] = [];
  /** Where the note that sounds began; null in silence. */
  #begun: number | null = null;
  /** How the note that sounds began, once it is long enough. */
  #opened: Float32Array | null = null;
  #loudest = 0;
  #waiting: number[] = [];
  #quiet = Infinity;
  /** The key of the last note; null after a chord. */
  #lastKey: number | null = null;
  /** The quietest since the last note was over. */
  #faded = 0;
  #found: HeardNote[] = [];

  /** @param rate samples a second of what is pushed */
  constructor(rate: number) {
    this.#decimator = new Decimator(rate);
    this.#rate = rate / this.#decimator.factor;
    this.#hop = Math.round(HOP * this.#rate);
    this.#yin = new Yin(this.#rate);
    this.#strokes = new Strokes(this.#rate);
  }

  /** The notes that have ended with these samples. */
  push(samples: Float32Array): HeardNote[] {
    const fresh = this.#decimator.push(samples);
    const kept = Math.max(
      0,
      Math.min(this.#next, this.#start + this.#sound.length) - this.#rate - this.#start,
    );
    const all = new Float32Array(this.#sound.length - Math.floor(kept) + fresh.length);
    all.set(this.#sound.subarray(Math.floor(kept)));
    all.set(fresh, all.length - fresh.length);
    this.#start += Math.floor(kept);
    this.#sound = all;
    this.#waiting.push(...this.#strokes.push(fresh, this.#floor ** 2 / 16));
    while (this.#next + this.#yin.span <= this.#start + all.length) {
      this.#look();
      this.#next += this.#hop;
    }
    return this.#found.splice(0);
  }

  /** What still sounds at the end. */
  end(): HeardNote[] {
    this.#close(this.#next);
    return this.#found.splice(0);
  }

  /** The pitch that sounds now, as a key with a fraction; null where there is none. */
  get now(): number | null {
    const frame = this.#frames.at(-1);
    return this.#begun !== null && frame !== undefined && frame.clarity >= CLEAR ? frame.key : null;
  }

  get #floor(): number {
    return Math.min(FLOOR.most, Math.max(FLOOR.least, FLOOR.above * this.#quiet));
  }

  #look() {
    const from = this.#next;
    const to = from + this.#yin.span;
    const level = this.#level(from, to);
    // The quietest of late: followed down at once, forgotten slowly.
    this.#quiet = Math.min(Math.max(level, 1e-6), this.#quiet * 1.0005);
    const reading = level < this.#floor ? null : this.#yin.read(this.#sound, from - this.#start);
    const key = reading === null ? null : 69 + 12 * Math.log2(reading.pitch / 440);
    const clarity = reading === null ? 0 : Math.max(0, 1 - reading.aperiodicity);
    while (this.#waiting.length > 0 && this.#waiting[0]! < from + this.#hop) {
      const stroke = this.#waiting.shift()!;
      this.#close(stroke);
      this.#begun = stroke;
    }
    this.#frames.push({ from, to, key, clarity, level });
    this.#loudest = Math.max(this.#loudest, level);
    if (this.#begun === null) {
      if (this.#frames.length > HELD) this.#frames.shift();
      this.#loudest = 0;
      // What dies away after a note is still that note; only what swells is another.
      this.#faded = Math.min(this.#faded, level);
      if (level > SWELL * this.#faded && this.#holds() !== null) this.#begun = this.#frames[0]!.from;
      return;
    }
    if (to - this.#begun > (LONG + 0.02) * this.#rate) this.#opened ??= this.#opening(this.#begun, to);
    const over = level < Math.max(this.#floor, this.#loudest * FALLEN);
    if (over && from > this.#begun + this.#hop * HELD) {
      this.#close(from);
      this.#begun = null;
      this.#faded = level;
    } else this.#slur();
  }

  /** Ends the note where another pitch has held for long enough without a stroke. */
  #slur() {
    const held = this.#holds();
    if (held === null) return;
    const before = this.#frames
      .slice(0, -HELD)
      .filter(({ key, clarity }) => key !== null && clarity >= CLEAR);
    if (before.length < HELD / 2) return;
    const known = before.slice(-40).toSorted((a, b) => a.key! - b.key!)[Math.min(before.length, 40) >> 1]!
      .key!;
    const step = Math.abs(held - known);
    if (step < 0.7 || MISTAKEN.some((far) => Math.abs(step - far) < NEAR)) return;
    const first = this.#frames.at(-HELD)!;
    if (this.#ringsOver(known, first.from)) {
      this.#frames = this.#frames.slice(-HELD);
      return;
    }
    // A look is clear as soon as it holds one pitch alone. Looks that are not lie between the two: the
    // new note began with the first of them, or else where the first look at it did.
    const reach = this.#yin.span / 3;
    const old = before.findLast((frame) => Math.abs(frame.key! - known) < NEAR) ?? first;
    const muddle = Math.max(old.from + 2 * reach, first.from - MUDDLED * this.#rate);
    const from = Math.min(muddle, first.from - reach);
    const usual = muddle < first.from - reach ? muddle : first.from;
    const at = this.#strokes.slightest(from, first.from + reach) ?? usual;
    this.#close(at);
    this.#begun = at;
  }

  /** True where a note was struck while the one before still rang, and is itself heard only now. */
  #ringsOver(known: number, at: number): boolean {
    const before = this.#lastKey;
    const soon = this.#begun !== null && at - this.#begun < RINGING * this.#rate;
    return soon && before !== null && Math.abs(before - known) < 1.3;
  }

  /** The pitch that the latest looks agree on. */
  #holds(): number | null {
    const late = this.#frames.slice(-HELD);
    if (late.length < HELD || late.some(({ key, clarity }) => key === null || clarity < CLEAR)) return null;
    const keys = late.map((frame) => frame.key!);
    const half = (from: number) =>
      keys.slice(from, from + HELD / 2).reduce((sum, key) => sum + key / (HELD / 2), 0);
    const [first, second] = [half(0), half(HELD / 2)];
    const steady = Math.max(...keys) - Math.min(...keys) < NEAR && Math.abs(second - first) < DRIFT;
    return steady ? (first + second) / 2 : null;
  }

  #close(at: number) {
    const begun = this.#begun;
    const frames = this.#frames;
    this.#frames = frames.filter((frame) => frame.to > at).slice(-HELD);
    this.#loudest = 0;
    const opening = this.#opened ?? (begun === null ? null : this.#opening(begun, at));
    this.#opened = null;
    if (begun === null || opening === null || at <= begun) return;
    const note = noteOf(frames, begun, at, this.#rate, (key) => isOneString(opening, key, this.#rate));
    // The filter's own lateness is taken back.
    const late = this.#decimator.delay / this.#decimator.factor / this.#rate;
    if (note !== null) this.#lastKey = note.pitch;
    if (note !== null) this.#found.push({ ...note, at: Math.max(0, note.at - late) as typeof note.at });
  }

  /** What sounds of the note from `begun` to `end`, at most {@link LONG}. */
  #opening(begun: number, end: number): Float32Array {
    const from = Math.max(0, Math.round(begun + 0.01 * this.#rate) - this.#start);
    const to = Math.min(end, begun + LONG * this.#rate) - this.#start;
    return this.#sound.slice(from, Math.max(from, to));
  }

  #level(from: number, to: number): number {
    let sum = 0;
    for (let i = from - this.#start; i < to - this.#start; i++) sum += this.#sound[i]! ** 2;
    return Math.sqrt(sum / (to - from));
  }
}
