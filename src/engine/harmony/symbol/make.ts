import { degreesOf, setOf } from '../degrees.ts';
import { spellingOf } from '../names.ts';
import { ALTERED } from './assemble.ts';
import { printChord } from './print.ts';
import { readChord } from './read.ts';
import type { Chord, Degree, NoteName } from '../types.ts';

/**
 * A chord of given degrees, in any order, with the symbol that asks for them as its text. A b13 beside a
 * natural fifth is written b6, as symbols do.
 * @throws RangeError when a name is no note name or no symbol asks for just these degrees
 */
export function makeChord(root: NoteName, degrees: readonly Degree[], bass: NoteName | null = null): Chord {
  spellingOf(root);
  if (bass !== null) spellingOf(bass);
  const wanted = degrees.includes('5')
    ? degrees.map((degree) => (degree === 'b13' ? 'b6' : degree))
    : degrees;
  const set = setOf(...wanted);
  const listed = degreesOf(set);
  const altered = set === ALTERED;
  const text = printChord({ text: '', root, bass, family: 'major', degrees: listed, altered });
  const read = readChord(text);
  if (!read.ok || listed.length !== wanted.length || read.value.degrees.join() !== listed.join()) {
    throw new RangeError(`no chord symbol asks for the degrees ${degrees.join(' ')}`);
  }
  return read.value;
}
