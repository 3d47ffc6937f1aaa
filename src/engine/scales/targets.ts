import {
  chordName,
  pitchClass,
  plainName,
  roleOf,
  spell,
  type Chord,
  type Degree,
  type NoteName,
  type Role,
} from '../harmony/index.ts';
import type { ScaleChoice } from './types.ts';

/** A note as a degree of its chord. */
export interface ChordNote {
  readonly degree: Degree;
  readonly name: NoteName;
  readonly plain: NoteName;
  readonly pc: number;
  readonly role: Role;
}

/** A step from a note of one chord into a note of the next. */
export interface Target {
  readonly from: ChordNote;
  readonly to: ChordNote;
  /** -2 to 2; 0 where the note stays and becomes another degree. */
  readonly semitones: number;
  /** One sentence a player reads. */
  readonly reason: string;
}

/** A chord, and the scale it is played with where one is chosen. */
export interface Played {
  readonly chord: Chord;
  readonly scale?: ScaleChoice | null;
}

/** Tensions a line may come to rest on when no scale says otherwise. Common practice. */
const RESTS: readonly Degree[] = ['9', '13'];

/**
 * Which notes of one chord move by a semitone or a whole tone, or stay, into which notes of the next:
 * steps into guide tones first, semitones before whole tones before notes that stay. Avoid notes are no
 * targets, and passing notes are neither left nor reached.
 * @param from its scale's notes are the ones that move; without a scale, the chord tones
 * @param to its scale says which tensions can be come to rest on; without one, 9 and 13 where they fit
 */
export function targets(from: Played, to: Played): readonly Target[] {
  const goals = restingNotes(to);
  return movingNotes(from)
    .flatMap((note) => goals.map((goal) => step(note, goal, from.chord, to.chord)))
    .filter((target) => target !== null)
    .sort((one, other) => weight(one) - weight(other));
}

const noteOf = (chord: Chord, degree: Degree): ChordNote => {
  const name = spell(chord.root, degree);
  return { degree, name, plain: plainName(name), pc: pitchClass(name), role: roleOf(chord, degree) };
};

const movingNotes = ({ chord, scale }: Played): readonly ChordNote[] =>
  scale
    ? scale.notes.filter(({ role }) => role !== 'scale' && role !== 'avoid')
    : chord.degrees.map((degree) => noteOf(chord, degree));

function restingNotes({ chord, scale }: Played): readonly ChordNote[] {
  const tones = chord.degrees.map((degree) => noteOf(chord, degree));
  const others = scale ? scale.notes : RESTS.map((degree) => noteOf(chord, degree));
  const restful = others.filter(
    ({ role, pc }) => role === 'tension' && !tones.some((tone) => tone.pc === pc),
  );
  return [...tones, ...restful];
}

function step(from: ChordNote, to: ChordNote, chord: Chord, next: Chord): Target | null {
  const semitones = ((to.pc - from.pc + 18) % 12) - 6;
  if (Math.abs(semitones) > 2) return null;
  const move = [
    'falls a whole tone to',
    'falls a semitone to',
    'stays as',
    'rises a semitone to',
    'rises a whole tone to',
  ];
  const where = `${to.plain}, the ${to.degree} of ${chordName(next)}`;
  const what = `${from.plain}, the ${from.degree} of ${chordName(chord)}`;
  const reason = `${what}, ${move[semitones + 2]!} ${semitones === 0 ? `the ${to.degree} of ${chordName(next)}` : where}.`;
  return { from, to, semitones, reason };
}

/** The order targets are shown in. Our choice, because guide tones by semitone are what the ear follows. */
function weight({ from, to, semitones }: Target): number {
  const size = semitones === 0 ? 3 : Math.abs(semitones) === 1 ? 0 : 4;
  const goal = to.role === 'guide' ? 0 : to.role === 'tension' ? 2 : 1;
  return (
    size + goal + (from.role === 'guide' ? 0 : from.role === 'root' ? 1 : 0.5) + (semitones > 0 ? 0.25 : 0)
  );
}
