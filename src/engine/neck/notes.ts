import { degreeSemitones, pitchClass, plainName, roleOf, spell, type Chord } from '../harmony/index.ts';
import { midi, STANDARD_TUNING } from '../units/index.ts';
import type { NeckNote, NeckSetting, Tone } from './types.ts';

/** A guitar in standard tuning without a capo, up to the fifteenth fret. */
export const GUITAR: NeckSetting = Object.freeze({ tuning: STANDARD_TUNING, capo: 0, lastFret: 15 });

/** More frets no neck has. Common practice: 24, and a few with some more. */
const MOST_FRETS = 30;

/**
 * A neck fit to be asked.
 * @throws RangeError for no strings, too many frets, a capo off the neck, or a string that leaves the range
 * of MIDI keys
 */
export function checkNeck({ tuning, capo, lastFret }: NeckSetting): void {
  if (tuning.length === 0) throw new RangeError('a neck has strings');
  if (lastFret > MOST_FRETS) throw new RangeError(`a neck has at most ${MOST_FRETS} frets, not ${lastFret}`);
  if (!Number.isInteger(capo) || !Number.isInteger(lastFret) || capo < 0 || capo > lastFret) {
    throw new RangeError(`a capo is at a fret from 0 to the last one (${lastFret}), not ${capo}`);
  }
  for (const open of tuning) {
    midi(open);
    midi(open + lastFret);
  }
}

/**
 * Every place of the notes given, from the capo or nut to the last fret: string by string from the
 * lowest-sounding in the tuning's order, each from its lowest fret up.
 * @throws RangeError for a neck that cannot be
 */
export function notesOnNeck(tones: readonly Tone[], neck: NeckSetting): readonly NeckNote[] {
  checkNeck(neck);
  const { tuning, capo, lastFret } = neck;
  return tuning.flatMap((open, i) => {
    const notes: NeckNote[] = [];
    for (let fret = capo; fret <= lastFret; fret++) {
      const tone = tones.find(({ pc }) => pc === (open + fret) % 12);
      if (tone) notes.push({ ...tone, string: tuning.length - i, fret, pitch: midi(open + fret) });
    }
    return notes;
  });
}

/** The tones of a chord, from its root up, with the parts they play in it. */
export const tonesOf = (chord: Chord): readonly Tone[] =>
  chord.degrees.map((degree) => {
    const name = spell(chord.root, degree);
    return {
      degree,
      name,
      plain: plainName(name),
      pc: (pitchClass(chord.root) + degreeSemitones(degree)) % 12,
      role: roleOf(chord, degree),
    };
  });
