import { swungIn, type BandSettings } from '../band/index.ts';
import type { Changes, Degree } from '../harmony/index.ts';
import type { Place } from '../performance/index.ts';
import type { ScaleChoice } from '../scales/index.ts';
import { beatLength } from '../units/index.ts';
import type { Course } from './course.ts';
import { groupOf } from './lay.ts';
import type { HeardGroup, LaidNote } from './types.ts';

/** How often a colour of a dominant was played. */
export interface ColourUse {
  readonly degree: Degree;
  readonly count: number;
}

/** Where a phrase began, counted from 1. */
export interface PhraseStart {
  readonly bar: number;
  readonly beat: number;
}

/** How the notes lay to the felt beat, in milliseconds; late is positive. */
export interface Timing {
  readonly notes: number;
  readonly median: number;
  /** Half of the notes lie between these. */
  readonly from: number;
  readonly to: number;
}

/** What was used in one chorus. It counts and does not judge. */
export interface ChorusSummary {
  readonly round: number;
  /** Notes followed, and chords that were not. */
  readonly notes: number;
  readonly chords: number;
  readonly groups: Readonly<Record<HeardGroup, number>>;
  /** The altered degrees that the scales over this chorus's dominants offer, and how often each was played. */
  readonly colours: readonly ColourUse[];
  readonly phrases: readonly PhraseStart[];
  /** Null where too few notes lie near a beat. */
  readonly timing: Timing | null;
}

/** What a summary is drawn from, beside the notes. */
export interface SummaryGround {
  readonly course: Course;
  readonly locate: (tick: number) => Place;
  readonly scaleAt: (changes: Changes, span: number) => ScaleChoice | null;
  readonly settings: BandSettings;
}

/** Degrees with a sign that colour a dominant. */
const COLOUR = /^[b#](?:5|9|11|13)$/;
/** A rest of a beat and at least so many seconds lies between two phrases (our choice). */
const BREATH = 0.35;
/** Notes further than this from beat and off-beat are meant elsewhere, milliseconds (our choice). */
const NEAR = 90;
/** Fewer notes say nothing about timing (our choice). */
const ENOUGH = 6;

/** One summary for each chorus that notes were heard in. */
export function summarize(notes: readonly LaidNote[], ground: SummaryGround): ChorusSummary[] {
  const starts = phraseStarts(notes, ground);
  return [...new Set(notes.map(({ round }) => round))].map((round) => {
    const own = notes.filter((note) => note.round === round);
    const groups: Record<HeardGroup, number> = { chord: 0, tension: 0, scale: 0, outside: 0 };
    for (const { role } of own) if (role !== null) groups[groupOf(role)]++;
    return {
      round,
      notes: own.filter(({ note }) => note.pitch !== null).length,
      chords: own.filter(({ note }) => note.pitch === null).length,
      groups,
      colours: coloursOf(own, ground),
      phrases: starts.filter((note) => note.round === round).map((note) => placeOf(note, ground)),
      timing: timingOf(own, ground),
    };
  });
}

function coloursOf(notes: readonly LaidNote[], { locate, scaleAt }: SummaryGround): ColourUse[] {
  const first = notes[0];
  if (first === undefined) return [];
  const { changes } = locate(first.at);
  const counts = new Map<Degree, number>();
  changes.spans.forEach(({ chord, treatment }, span) => {
    if (chord === null || (treatment === null && !chord.altered)) return;
    for (const { degree } of scaleAt(changes, span)?.notes ?? []) {
      if (COLOUR.test(degree)) counts.set(degree, counts.get(degree) ?? 0);
    }
  });
  for (const { span, degree, into } of notes) {
    // A pushed note is heard over a chord of the next round, which has its own count there.
    const over = changes.spans[span];
    const treated = over !== undefined && (over.treatment !== null || over.chord?.altered === true);
    if (degree === null || !treated || into > changes.length || !counts.has(degree)) continue;
    counts.set(degree, counts.get(degree)! + 1);
  }
  return [...counts].map(([degree, count]) => ({ degree, count }));
}

function phraseStarts(notes: readonly LaidNote[], { course, locate }: SummaryGround): LaidNote[] {
  return notes.filter((note, i) => {
    const before = notes[i - 1];
    if (before === undefined) return true;
    const rest = note.at - (before.at + before.length);
    const { changes, bar } = locate(note.at);
    const seconds = course.secondsAt(note.at) - course.secondsAt(before.at + before.length);
    return rest >= beatLength(changes.bars[bar]!.metre) && seconds >= BREATH;
  });
}

/** The beat a note lies on or nearest to. */
function placeOf(note: LaidNote, { locate }: SummaryGround): PhraseStart {
  const { changes } = locate(note.at);
  const bar = changes.bars[note.bar]!;
  const unit = beatLength(bar.metre);
  const beat = Math.floor((note.into - bar.start + bar.skipped) / unit);
  return { bar: note.bar + 1, beat: beat + 1 };
}

function timingOf(notes: readonly LaidNote[], { course, locate, settings }: SummaryGround): Timing | null {
  const first = notes[0];
  if (first === undefined) return null;
  const { changes, roundStart } = locate(first.at);
  const swung = swungIn(changes, settings);
  const felt = changes.bars.flatMap((bar) => {
    const unit = beatLength(bar.metre);
    const halves = Math.ceil((2 * (bar.length + bar.skipped)) / unit);
    return Array.from({ length: halves }, (_, i) => bar.start - bar.skipped + Math.round((i * unit) / 2));
  });
  const beats = felt.map((at) => roundStart + swung(at));
  const off = notes
    .map(({ note, at }) => {
      const nearest = beats.reduce(
        (best, beat) => (Math.abs(beat - at) < Math.abs(best - at) ? beat : best),
        Infinity,
      );
      return 1000 * (note.at - course.secondsAt(nearest));
    })
    .filter((late) => Math.abs(late) < NEAR)
    .sort((a, b) => a - b);
  if (off.length < ENOUGH) return null;
  const quantile = (share: number) => Math.round(off[Math.round(share * (off.length - 1))]!);
  return { notes: off.length, median: quantile(0.5), from: quantile(0.25), to: quantile(0.75) };
}
