import {
  plainName,
  prettyText,
  readable,
  transposeChord,
  transposedFor,
  transposeName,
  transposeScale,
  TRANSPOSING,
  type Changes,
  type Chord,
  type Interval,
  type NoteName,
  type ScaleChoice,
  type TransposingId,
} from '../../engine/index.ts';

/** A note with its two spellings. */
interface Spelled {
  readonly name: NoteName;
  readonly plain: NoteName;
}

/** What a player reads of what sounds. */
export interface Written {
  /** Null at concert pitch; else for whom, e.g. "for B♭ instrument". */
  readonly says: string | null;
  chord(chord: Chord): Chord;
  scale(scale: ScaleChoice): ScaleChoice;
  changes(changes: Changes): Changes;
  /** The tonic of a key. */
  tonic(name: NoteName): NoteName;
  note<T extends Spelled>(note: T): T;
}

const CONCERT: Written = Object.freeze({
  says: null,
  chord: (chord: Chord) => chord,
  scale: (scale: ScaleChoice) => scale,
  changes: (changes: Changes) => changes,
  tonic: (name: NoteName) => name,
  note: <T extends Spelled>(note: T) => note,
});

const known = new Map<TransposingId, Written>();

/** What an instrument reads; one object for each. */
export function writtenFor(id: TransposingId): Written {
  let written = known.get(id);
  if (written === undefined) known.set(id, (written = id === 'concert' ? CONCERT : transposing(id)));
  return written;
}

function transposing(id: TransposingId): Written {
  const by: Interval = transposedFor(id);
  const scales = new WeakMap<ScaleChoice, ScaleChoice>();
  const chords = new WeakMap<Chord, Chord>();
  const chord = remembered(chords, (sounding) => transposeChord(sounding, by));
  return {
    says: prettyText(`for ${TRANSPOSING.find((instrument) => instrument.id === id)!.name}`),
    chord,
    scale: remembered(scales, (scale) => transposeScale(scale, by)),
    changes: remembered(new WeakMap<Changes, Changes>(), (changes) => ({
      ...changes,
      spans: changes.spans.map((span) => ({
        ...span,
        chord: span.chord && chord(span.chord),
        written: span.written && chord(span.written),
      })),
    })),
    tonic: (name) => readable(transposeName(name, by)),
    note: (note) => {
      const name = transposeName(note.name, by);
      return { ...note, name, plain: plainName(transposeName(note.plain, by)) };
    },
  };
}

/** A function whose answers are kept, so that the same thing gives the same object. */
const remembered =
  <T extends object>(answers: WeakMap<T, T>, work: (thing: T) => T) =>
  (thing: T): T => {
    let answer = answers.get(thing);
    if (answer === undefined) answers.set(thing, (answer = work(thing)));
    return answer;
  };
