import { commonName, intervalBetween, pitchClass, plainName, transposeName, type Interval } from './names.ts';
import type { Chord, NoteName } from './types.ts';

/**
 * A chord moved by an interval (both its root and its bass), the way it was typed kept. Roots that would
 * need a double accidental are written plainly.
 */
export function transposeChord(chord: Chord, by: Interval): Chord {
  const move = (name: NoteName): NoteName => readable(transposeName(name, by));
  const root = move(chord.root);
  const bass = chord.bass === null ? null : move(chord.bass);
  return { ...chord, root, bass, text: retype(chord, root, bass) };
}

/** A name to read chords by. Double accidentals give way to the plain name; single ones are kept, since a chart's key asks for them. */
export const readable = (name: NoteName): NoteName => (name.length > 2 ? plainName(name) : name);

/**
 * The interval of so many semitones as a chord on `root` is best moved by: to the commonest name of the
 * new root.
 */
export function intervalOf(root: NoteName, semitones: number): Interval {
  const to = commonName(pitchClass(root) + semitones);
  const up = intervalBetween(root, to);
  const octaves = Math.round((semitones - up.semitones) / 12);
  return { letters: up.letters + 7 * octaves, semitones: up.semitones + 12 * octaves };
}

const SYMBOL = /^(\s*[([]?)[A-G](?:[♭♯b#]|𝄫|𝄪)*(.*?)(\/\s*[A-G](?:[♭♯b#]|𝄫|𝄪)*)?([)\]]*\s*)$/u;

/** The typed symbol with its root and bass exchanged; its suffix stays as the player typed it. */
function retype(chord: Chord, root: NoteName, bass: NoteName | null): string {
  return chord.text.replace(
    SYMBOL,
    (_, lead: string, suffix: string, _slash: string | undefined, end: string) => {
      return lead + root + suffix + (bass === null ? '' : `/${bass}`) + end;
    },
  );
}
