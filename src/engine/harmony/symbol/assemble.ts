import { bitOf, setOf, type DegreeSet } from '../degrees.ts';
import type { ChordFamily } from '../types.ts';
import { CLASHES } from './clash.ts';
import { flaw, likelier, type Flaw, type Parts } from './parts.ts';

const ROOT = bitOf('1');
const SECOND = bitOf('2');
const MINOR_THIRD = bitOf('b3');
const MAJOR_THIRD = bitOf('3');
const FOURTH = bitOf('4');
const FLAT_FIFTH = bitOf('b5');
const FIFTH = bitOf('5');
const SHARP_FIFTH = bitOf('#5');
const SIXTH = bitOf('6');
const DIMINISHED_SEVENTH = bitOf('bb7');
const MINOR_SEVENTH = bitOf('b7');
const MAJOR_SEVENTH = bitOf('7');
const NINTH = bitOf('9');
const ELEVENTH = bitOf('11');
const FLAT_THIRTEENTH = bitOf('b13');
const THIRTEENTH = bitOf('13');

const THIRDS = MINOR_THIRD | MAJOR_THIRD;
const ALTERED_FIFTHS = FLAT_FIFTH | SHARP_FIFTH;
const FIFTHS = FIFTH | ALTERED_FIFTHS;
const NINTHS = setOf('b9', '9', '#9');

/** What `alt` asks for: both altered fifths and both altered ninths over a shell. Common practice. */
export const ALTERED: DegreeSet = setOf('1', '3', 'b5', '#5', 'b7', 'b9', '#9');

/** What `no` leaves out, by number. */
const OMISSIBLE: ReadonlyMap<number, DegreeSet> = new Map([
  [3, THIRDS],
  [5, FIFTHS],
  [7, DIMINISHED_SEVENTH | MINOR_SEVENTH | MAJOR_SEVENTH],
  [9, NINTHS],
  [11, setOf('11', '#11')],
]);

/** The degrees a symbol asks for, and the behaviour that the degrees alone do not tell. */
export interface Assembled {
  readonly degrees: DegreeSet;
  readonly family: ChordFamily;
}

/**
 * What the parts of a symbol mean together. Common practice, with these choices where practice differs:
 * - an 11 without a quality is the suspended ninth chord (C11 is C9sus4), because its third is left out;
 * - a 13 brings the ninth but not the eleventh, because the eleventh is left out over a major third;
 * - an altered fifth takes the natural one's place, and so does a b13, which lies a semitone above it; a
 *   b6 lets it stand;
 * - an added sixth above a seventh is a 13, an added second a 9, an added fourth an 11.
 */
export function assemble(parts: Parts): Assembled | Flaw {
  if (parts.altered) return assembleAltered(parts);
  if (parts.size === 5) return assemblePower(parts);
  const third = thirdOf(parts);
  if (typeof third !== 'number') return third;
  const fifth = fifthOf(parts);
  if (typeof fifth !== 'number') return fifth;
  const seventh = seventhOf(parts);
  if (typeof seventh !== 'number') return seventh;
  const degrees = ROOT | third | fifth | seventh | tensionsOf(parts, third, seventh);
  const left = findClash(parts, degrees) ?? withoutOmitted(parts, degrees);
  if (typeof left !== 'number') return left;
  const heard = left & FLAT_THIRTEENTH ? left & ~FIFTH : left;
  return { degrees: heard, family: familyOf(heard, isMinor(parts)) };
}

const isMinor = ({ quality }: Parts): boolean => quality !== 'plain' && quality !== 'major';
const isDiminished = ({ quality }: Parts): boolean =>
  quality === 'diminished' || quality === 'half-diminished';

/** A flaw where one of the degrees was typed; over the whole suffix where none was. */
function flawAt(parts: Parts, where: DegreeSet, message: string, ...texts: readonly string[]): Flaw {
  const place = parts.places.findLast(({ degree }) => (bitOf(degree) & where) !== 0);
  return flaw(place?.from ?? parts.start, place?.to ?? parts.end, message, ...texts);
}

function assembleAltered(parts: Parts): Assembled | Flaw {
  const plain = parts.quality === 'plain' && !parts.augmented && parts.suspended === 0 && !parts.four;
  const whole = (parts.size === 0 || parts.size === 7) && parts.seventh !== 'major';
  if (plain && whole && parts.typed === 0 && parts.omitted.length === 0) {
    return { degrees: ALTERED, family: 'dominant' };
  }
  const message = 'alt stands alone: it is a dominant with b9 #9 b5 #5';
  return flaw(parts.start, parts.end, message, '7alt');
}

function assemblePower(parts: Parts): Assembled | Flaw {
  const { quality, augmented, suspended, four, typed, seventh, sizeAt } = parts;
  if (quality === 'plain' && !augmented && !suspended && !four && seventh === 'none') {
    if ((typed & (ALTERED_FIFTHS | MAJOR_THIRD | FLAT_THIRTEENTH)) === 0) {
      const degrees = ROOT | FIFTH | typed;
      return findClash(parts, degrees) ?? { degrees, family: 'power' };
    }
  }
  const found = flaw(parts.start, parts.end, 'a 5 stands for a chord of root and fifth alone', '5');
  return quality === 'plain' ? found : likelier(found, sizeAt, sizeAt + 1, '');
}

function thirdOf(parts: Parts): DegreeSet | Flaw {
  const minor = isMinor(parts);
  const leavesThird = (parts.size === 11 && parts.quality === 'plain') || (parts.four && !minor);
  const suspended = parts.suspended | (leavesThird ? FOURTH : 0);
  const added = parts.typed & MAJOR_THIRD;
  if (suspended === 0) {
    if (added) return flawAt(parts, MAJOR_THIRD, 'the third is there already', '');
    return minor ? MINOR_THIRD : MAJOR_THIRD;
  }
  if (!isDiminished(parts)) return suspended | added;
  return flawAt(parts, 0, 'a diminished chord is not suspended', 'sus4', '7sus4');
}

function fifthOf(parts: Parts): DegreeSet | Flaw {
  const typed = parts.typed & ALTERED_FIFTHS;
  if (!isDiminished(parts)) return typed | (parts.augmented ? SHARP_FIFTH : 0) || FIFTH;
  if (!parts.augmented && (typed & SHARP_FIFTH) === 0) return FLAT_FIFTH;
  return flawAt(parts, SHARP_FIFTH, 'a diminished chord has no raised fifth', '');
}

function seventhOf(parts: Parts): DegreeSet | Flaw {
  const { seventh, quality } = parts;
  if (quality === 'half-diminished') {
    if (seventh !== 'major') return MINOR_SEVENTH;
    return flawAt(parts, 0, 'a half-diminished chord has no major seventh', 'ø7', '°(maj7)');
  }
  const plain = quality === 'diminished' ? DIMINISHED_SEVENTH : MINOR_SEVENTH;
  switch (seventh) {
    case 'none':
      return 0;
    case 'plain':
      return plain;
    case 'major':
      return MAJOR_SEVENTH;
    case 'both':
      return plain | MAJOR_SEVENTH;
  }
}

function tensionsOf(parts: Parts, third: DegreeSet, seventh: DegreeSet): DegreeSet {
  let tensions = parts.typed & ~(FIFTHS | THIRDS);
  if (parts.size >= 11 && (tensions & NINTHS) === 0 && (third & SECOND) === 0) tensions |= NINTH;
  if (parts.size === 11 && (third & FOURTH) === 0) tensions |= ELEVENTH;
  if (parts.four && isMinor(parts)) tensions |= ELEVENTH;
  const isThirteenth = seventh & (MINOR_SEVENTH | MAJOR_SEVENTH) && (seventh & DIMINISHED_SEVENTH) === 0;
  if (tensions & SIXTH && isThirteenth && (tensions & THIRTEENTH) === 0) tensions ^= SIXTH | THIRTEENTH;
  return tensions;
}

function withoutOmitted(parts: Parts, degrees: DegreeSet): DegreeSet | Flaw {
  let left = degrees;
  for (const { number, from, to } of parts.omitted) {
    const omitted = OMISSIBLE.get(number) ?? 0;
    if (number === 1) return flaw(from, to, 'a chord is not named without its root', '');
    if ((left & omitted) === 0) return flaw(from, to, `there is no ${number} to leave out`, '');
    if (isDiminished(parts) && number <= 5) {
      return flaw(from, to, 'a diminished chord needs its third and fifth', '');
    }
    left &= ~omitted;
  }
  return left;
}

/** Degrees that contradict or repeat each other. Of a chord's size and an alteration the size gives way: C9b9 was meant as C7b9. */
function findClash(parts: Parts, degrees: DegreeSet): Flaw | null {
  for (const { both, why } of CLASHES) {
    if ((degrees & both) !== both) continue;
    const found = flawAt(parts, both, why, '');
    const { size, sizeAt } = parts;
    const sized = size === 11 ? FOURTH | ELEVENTH : size === 13 ? THIRTEENTH : size === 9 ? NINTH : 0;
    if ((sized & both) === 0) return found;
    return likelier(found, sizeAt, sizeAt + `${size}`.length, size === 11 ? '9' : '7');
  }
  return null;
}

/**
 * How a chord of these degrees behaves.
 * @param minor true when the symbol says so, which a suspended chord's degrees do not tell
 */
export function familyOf(degrees: DegreeSet, minor: boolean): ChordFamily {
  if (degrees & (SECOND | FOURTH)) return minor ? 'minor' : 'suspended';
  if (degrees & MINOR_THIRD) {
    if (degrees & (FIFTH | SHARP_FIFTH) || (degrees & FLAT_FIFTH) === 0) return 'minor';
    return degrees & MINOR_SEVENTH ? 'half-diminished' : 'diminished';
  }
  if ((degrees & MAJOR_THIRD) === 0) return 'power';
  if (degrees & MINOR_SEVENTH) return 'dominant';
  return degrees & SHARP_FIFTH ? 'augmented' : 'major';
}
