import {
  chordPitchClasses,
  plainName,
  roleOf,
  spell,
  type Changes,
  type Chord,
  type Degree,
  type NoteName,
} from '../harmony/index.ts';
import type { Place } from '../performance/index.ts';
import type { ScaleChoice } from '../scales/index.ts';
import { beatLength, beats, ticks, type Midi } from '../units/index.ts';
import type { Course } from './course.ts';
import type { HeardGroup, HeardNote, HeardRole, LaidNote } from './types.ts';

/** What notes are laid against. */
export interface Ground {
  readonly course: Course;
  /** Where a tick lies in the music as it sounded. */
  readonly locate: (tick: number) => Place;
  /** The scale over a span of a round's changes; null where there is none. */
  readonly scaleAt: (changes: Changes, span: number) => ScaleChoice | null;
}

/** A note that is earlier than this for the first beat was played into the count-in. */
const EARLY = beats(0.25);

/** Where each note lies in the music, and what it does there. Notes played into the count-in are left out. */
export function layNotes(notes: readonly HeardNote[], ground: Ground): LaidNote[] {
  return notes.flatMap((note) => {
    const at = Math.round(ground.course.tickAt(note.at));
    const end = Math.round(ground.course.tickAt(note.at + note.length));
    if (at < -EARLY || end <= 0) return [];
    return [lay(note, Math.max(0, at), Math.max(1, end - Math.max(0, at)), ground)];
  });
}

function lay(note: HeardNote, at: number, length: number, ground: Ground): LaidNote {
  const place = ground.locate(at);
  const over = heardOver(place, at, length, ground.locate);
  const span = over.changes.spans[over.span]!;
  const told =
    note.pitch === null || span.chord === null
      ? { degree: null, name: null, role: null }
      : roleIn(note.pitch, span.chord, ground.scaleAt(over.changes, over.span));
  return {
    note,
    at: ticks(at),
    length: ticks(length),
    round: place.round,
    into: ticks(Math.round(at - place.roundStart)),
    bar: place.bar,
    span: over.span,
    chord: span.chord?.text ?? '',
    ...told,
  };
}

/**
 * The place whose chord a note is heard over: that of its beginning, or the one it pushes into. A note pushes
 * where it begins no more than half a beat before the change and sounds on at least as long after it (our
 * choice, after the band's own pushes).
 */
function heardOver(place: Place, at: number, length: number, locate: Ground['locate']): Place {
  const span = place.changes.spans[place.span]!;
  const change = place.roundStart + span.start + span.length;
  const unit = beatLength(place.changes.bars[place.bar]!.metre);
  const before = change - at;
  return before > 0 && before <= unit / 2 && length - before >= before ? locate(change) : place;
}

/** Degrees that a chord and its scale have no name for, by semitones above the root (common practice). */
const OUTSIDE: readonly Degree[] = ['1', 'b9', '9', 'b3', '3', '11', '#11', '5', 'b13', '13', 'b7', '7'];

/** What a key does over a chord with a scale. */
export function roleIn(
  key: Midi,
  chord: Chord,
  scale: ScaleChoice | null,
): { readonly degree: Degree; readonly name: NoteName; readonly role: HeardRole } {
  const pc = key % 12;
  const note = scale?.notes.find((one) => one.pc === pc);
  if (note !== undefined) return { degree: note.degree, name: note.plain, role: note.role };
  const own = chord.degrees[chordPitchClasses(chord).indexOf(pc)];
  const degree = own ?? OUTSIDE.find((one) => chordPitch(chord, one) === pc)!;
  const name = plainName(spell(chord.root, degree));
  return { degree, name, role: own === undefined ? 'outside' : roleOf(chord, degree) };
}

const chordPitch = (chord: Chord, degree: Degree): number =>
  chordPitchClasses({ ...chord, degrees: [degree] })[0]!;

const GROUPS: Readonly<Record<HeardRole, HeardGroup>> = {
  root: 'chord',
  guide: 'chord',
  fifth: 'chord',
  tension: 'tension',
  scale: 'scale',
  avoid: 'scale',
  outside: 'outside',
};

/** The group a role belongs to. */
export const groupOf = (role: HeardRole): HeardGroup => GROUPS[role];
