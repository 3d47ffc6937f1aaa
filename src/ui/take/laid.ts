import {
  courseOf,
  layNotes,
  readText,
  summarize,
  summaryWords,
  type Changes,
  type LaidNote,
} from '../../engine/index.ts';
import { firstAt } from '../harmony/fitting.ts';
import type { Session } from '../session.svelte.ts';
import type { Take } from './take.ts';

/** A note where it falls on the form. */
export interface Placed {
  /** Tick of the form. */
  readonly at: number;
  readonly note: LaidNote;
}

/** What one chorus says. */
export interface Chorus {
  readonly round: number;
  readonly words: readonly string[];
  readonly notes: readonly LaidNote[];
}

/** The notes of a take against the changes as they sounded, and what each chorus says. */
export function groundOf(
  take: Take,
  { settings }: Pick<Session, 'settings'>,
): { readonly notes: readonly LaidNote[]; readonly choruses: readonly Chorus[] } {
  const { performance } = take;
  const leads = performance.plans.flatMap(({ plan }) => plan.lead ?? []);
  /** Over the chord of a drill lies the scale of the drill. */
  const drilledAt = (changes: Changes, span: number) =>
    leads.map((lead) => lead.scaleAt?.(changes, span) ?? null).find((scale) => scale !== null);
  const ground = {
    course: courseOf(take.course, take.lag),
    locate: (tick: number) => performance.locate(tick),
    scaleAt: (changes: Changes, span: number) => drilledAt(changes, span) ?? firstAt(changes, span),
    settings: take.script.plans[0]?.project.settings ?? settings,
  };
  const notes = layNotes(take.notes, ground);
  const choruses = summarize(notes, ground).map((summary) => ({
    round: summary.round,
    words: summaryWords(summary),
    notes: notes.filter(({ round }) => round === summary.round),
  }));
  return { notes, choruses };
}

/**
 * The notes of one round where they fall on the form.
 * @param time which of the times that the chord of a drill goes by
 */
export function placedIn(
  take: Take | null,
  notes: readonly LaidNote[],
  round: number,
  time: number,
): readonly Placed[] {
  if (take === null) return [];
  return notes
    .filter((note) => note.round === round)
    .flatMap((note) => {
      const place = placeOf(take, note.at);
      return place?.time === time || place?.time === null ? [{ at: place.at, note }] : [];
    });
}

/** The marks of one round where they fall on the form. */
export function marksIn(take: Take | null, round: number, time: number): readonly { readonly at: number }[] {
  if (take === null) return [];
  return take.marks
    .filter((mark) => take.performance.locate(mark).round === round)
    .map((mark) => placeOf(take, mark))
    .filter((place) => place !== null)
    .filter((place) => place.time === time || place.time === null);
}

/**
 * Where a tick of the performance falls on the form, and in which of the times that the chord of a drill goes by:
 * such a drill lasts longer than its chord, and is laid over it again and again. Null time goes through the form.
 */
export function placeOf(
  take: Take,
  tick: number,
): { readonly at: number; readonly time: number | null } | null {
  const chord = chordUnder(take, tick);
  if (chord !== null) {
    const into = Math.max(0, tick - take.performance.locate(tick).roundStart);
    return { at: chord.start + (into % chord.length), time: Math.floor(into / chord.length) };
  }
  const at = take.performance.formTick(tick);
  return at === null ? null : { at, time: null };
}

/** How many times the chord of a take's drill goes by in a round; 1 where it goes through the form. */
export function timesIn(take: Take, at: number): number {
  const chord = chordUnder(take, at);
  const { changes } = take.performance.locate(at);
  return chord === null ? 1 : Math.max(1, Math.ceil(changes.length / chord.length));
}

/** The chord that all of a take stands for at a tick of it, ticks of the form; null where it goes through the form. */
function chordUnder(take: Take, at: number): { readonly start: number; readonly length: number } | null {
  const { plan } = take.performance.plans.findLast((known) => known.at <= at)!;
  const { stands, lead } = plan;
  if (stands === undefined || lead?.from === undefined) return null;
  const { spans, length } = readText(lead.from.chart.text).written;
  const here = spans.findLast(({ start }) => start <= stands);
  const next = spans.find(({ start, chord }) => start > stands && chord?.text !== here?.chord?.text);
  return { start: stands, length: (next?.start ?? length) - stands };
}
