import type { Changes, PlayedBar } from '../harmony/index.ts';
import { beatLength, beatsInBar, PPQ, ticks, type Metre, type Ticks } from '../units/index.ts';
import { RHYTHMS } from './data.ts';
import type { Reach, Rung } from './rungs.ts';
import type { DrillRhythm, DrillSettings } from './types.ts';

/** A note before it is fingered and accented. */
export interface Stroke {
  readonly rung: Rung;
  readonly at: number;
  readonly length: number;
  /** True for the first note of a group. */
  readonly head: boolean;
  readonly why: string;
}

/** What was made, before it is fingered. */
export interface Draft {
  readonly strokes: readonly Stroke[];
  readonly changes: Changes;
  readonly reach: Reach;
  /** What it is made from, for its title; null where that is the changes. */
  readonly from: string | null;
}

/** The beats of a line of bars, also beyond its end, as bars like the last one. */
export class Beats {
  readonly #bars: readonly PlayedBar[];

  constructor({ bars }: Pick<Changes, 'bars'>) {
    this.#bars = bars;
  }

  /** The bar `at` lies in: where its first beat is, where it ends, and its felt beat. */
  barAt(at: number): { readonly start: number; readonly end: number; readonly beat: number } {
    const last = this.#bars.at(-1)!;
    const bar = this.#bars.find(({ start, length }) => at >= start && at < start + length);
    if (bar !== undefined) {
      const start = bar.start - bar.skipped;
      return { start, end: bar.start + bar.length, beat: beatLength(bar.metre) };
    }
    const whole = last.skipped + last.length;
    const over = Math.floor((at - last.start - last.length) / whole);
    const start = last.start + last.length + over * whole;
    return { start, end: start + whole, beat: beatLength(last.metre) };
  }

  /** True on a felt beat. */
  isOnBeat(at: number): boolean {
    const { start, beat } = this.barAt(at);
    return (at - start) % beat === 0;
  }

  /** The first felt beat at `at` or after it. */
  beatFrom(at: number): number {
    const { start, end, beat } = this.barAt(at);
    return Math.min(end, start + Math.ceil((at - start) / beat) * beat);
  }
}

/**
 * The length of one running note. Three to a beat are the beat's own in a metre that falls into three; where
 * a bar has no whole number of quarters there is no room for them, and they are eighths.
 */
export function unitOf(
  rhythm: DrillRhythm,
  bars: readonly Pick<PlayedBar, 'metre' | 'length' | 'skipped'>[],
): Ticks {
  const isEven = bars.every(
    ({ metre, length, skipped }) =>
      length % PPQ === 0 && skipped % PPQ === 0 && beatLength(metre) % (1.5 * PPQ) !== 0,
  );
  return ticks(PPQ / RHYTHMS[rhythm === 'triplet' && !isEven ? 'eighth' : rhythm]);
}

/** The tick of the first note. */
export function startOf({ startBeat }: DrillSettings, metre: Metre): number {
  const beat = Math.max(1, Math.min(startBeat, Math.floor(beatsInBar(metre))));
  return (beat - 1) * beatLength(metre);
}

/** Writes notes one after the other. */
export class Pen {
  readonly strokes: Stroke[] = [];
  at: number;

  constructor(at: number) {
    this.at = at;
  }

  play(rung: Rung, length: number, why: string, head = false): void {
    this.strokes.push({ rung, at: this.at, length, head, why });
    this.at += length;
  }

  get last(): Rung | null {
    return this.strokes.at(-1)?.rung ?? null;
  }

  /** Lets the last note ring until `at`. */
  holdUntil(at: number): void {
    const last = this.strokes.pop();
    if (last === undefined) return;
    this.strokes.push({ ...last, length: at - last.at });
    this.at = at;
  }

  /** Plays the note a drill comes home to, and holds it to the end of its bar, or the next where that is near. */
  comeHome(rung: Rung, beats: Beats, why: string): void {
    const isThere = this.last?.pitch === rung.pitch;
    const from = isThere ? this.strokes.at(-1)!.at : this.at;
    const { end, beat } = beats.barAt(from);
    const until = end - from >= beat ? end : beats.barAt(end).end;
    if (isThere) {
      const last = this.strokes.pop()!;
      this.at = last.at;
    }
    this.play(rung, until - from, why, true);
  }
}
