import {
  courseOf,
  layNotes,
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
  const ground = {
    course: courseOf(take.course, take.lag),
    locate: (tick: number) => performance.locate(tick),
    scaleAt: (changes: Changes, span: number) => firstAt(changes, span),
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

/** The notes of one round where they fall on the form. */
export function placedIn(take: Take | null, notes: readonly LaidNote[], round: number): readonly Placed[] {
  if (take === null) return [];
  return notes
    .filter((note) => note.round === round)
    .flatMap((note) => {
      const at = take.performance.formTick(note.at);
      return at === null ? [] : [{ at, note }];
    });
}
