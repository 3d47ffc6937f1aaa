import {
  clickTrack,
  comp,
  drum,
  dropOut,
  settingsIn,
  walk,
  type Carry,
  type RoundPlan,
} from './band/index.ts';
import type { Changes, Degree, Span } from './harmony/index.ts';
import { ticks, type NoteEvent, type Ticks } from './units/index.ts';

/**
 * The same changes with neighbouring spans of one sounding harmony made one, so that the band hears
 * four bars of C7alt as one long chord however they are written.
 */
export function mergeRepeats(changes: Changes): Changes {
  const spans: Span[] = [];
  for (const span of changes.spans) {
    const last = spans.at(-1);
    const same = last !== undefined && span.chord?.text === last.chord?.text && span.silence === last.silence;
    if (same) spans[spans.length - 1] = { ...last, length: ticks(last.length + span.length) };
    else spans.push(span);
  }
  return { ...changes, spans };
}

const PLAYERS = [comp, walk, drum, clickTrack];

/** All parts of a round from `plan.from` on, in order of onset. */
export function arrangeRound(plan: RoundPlan): readonly NoteEvent[] {
  const played = { ...plan, settings: settingsIn(plan.settings, plan.round) };
  const notes = PLAYERS.flatMap((player) => player(played)).sort((a, b) => a.at - b.at);
  return plan.dropout ? dropOut(notes, plan, plan.dropout) : notes;
}

/**
 * What sounds just before `at`, read off the notes that lead up to it. Times in the answer are on the
 * beat line of `start` and `at`.
 * @param notes one block's notes in order of onset, counted from `start`
 * @param before what sounded when the block began
 */
export function carryAt(notes: readonly NoteEvent[], start: Ticks, at: Ticks, before: Carry): Carry {
  let bass = before.bass;
  let chord: NoteEvent[] = [];
  for (const note of notes) {
    if (start + note.at >= at) break;
    if (note.part === 'bass') bass = note.pitch;
    if (note.part === 'comp') chord = chord[0]?.at === note.at ? [...chord, note] : [note];
  }
  if (chord.length === 0) return { ...before, bass };
  chord.sort((a, b) => a.pitch - b.pitch);
  return {
    bass,
    voicing: {
      pitches: chord.map((note) => note.pitch),
      names: chord.map((note) => note.name ?? ''),
      degrees: chord.map((note) => note.degree as Degree),
    },
    ringsUntil: ticks(start + Math.max(...chord.map((note) => note.at + note.length))),
  };
}
