import { isDominant, resolution, type Chord, type Degree } from '../harmony/index.ts';
import { alterations } from './selections.ts';

interface Sounding {
  readonly chord: Chord;
  readonly tensions?: readonly Degree[];
}

/**
 * What a dominant may take when it resolves to minor: ninth and thirteenth as they lie in the minor
 * key, the fifth mode of harmonic minor. Common practice.
 */
const TOWARDS_MINOR: readonly Degree[] = ['b9', 'b13'];

/**
 * The tensions an attack's chord may take unasked, if they are other than the table's: those handed
 * in with the attack, or those of the minor key a plain dominant leads to.
 */
export function tensionsInContext(
  attacks: readonly Sounding[],
  index: number,
  loop: boolean,
): readonly Degree[] | undefined {
  const { chord, tensions } = attacks[index]!;
  if (tensions !== undefined) return tensions;
  if (!isDominant(chord) || alterations(chord).length > 0) return undefined;
  const next = chordAfter(attacks, index, loop);
  return next !== null && fallsToMinor(chord, next) && !namesTension(chord) ? TOWARDS_MINOR : undefined;
}

/** The root falls a fifth to a minor chord: the natural 9 and 13 are not of its key. Common practice. */
const fallsToMinor = (chord: Chord, next: Chord): boolean =>
  resolution(chord, next) === 'falling-fifth' &&
  (next.family === 'minor' || next.family === 'half-diminished');

const namesTension = (chord: Chord): boolean =>
  chord.degrees.some((degree) => degree === '9' || degree === '13');

function chordAfter(attacks: readonly Sounding[], index: number, loop: boolean): Chord | null {
  const { text } = attacks[index]!.chord;
  for (let step = 1; step < attacks.length; step++) {
    const after = index + step;
    if (after >= attacks.length && !loop) return null;
    const { chord } = attacks[after % attacks.length]!;
    if (chord.text !== text) return chord;
  }
  return null;
}
