import { setOf, type DegreeSet } from './degrees.ts';
import { flaw, type Flaw, type Parts } from './scan.ts';
import type { ChordFamily } from './types.ts';

const D = {
  root: setOf('1'),
  minorThird: setOf('b3'),
  majorThird: setOf('3'),
  third: setOf('b3', '3'),
  suspensions: setOf('2', '4'),
  flatFifth: setOf('b5'),
  fifth: setOf('5'),
  sharpFifth: setOf('#5'),
  alteredFifths: setOf('b5', '#5'),
  fifths: setOf('b5', '5', '#5'),
  sixth: setOf('6'),
  diminishedSeventh: setOf('bb7'),
  minorSeventh: setOf('b7'),
  majorSeventh: setOf('7'),
  sevenths: setOf('bb7', 'b7', '7'),
  ninth: setOf('9'),
  ninths: setOf('b9', '9', '#9'),
  eleventh: setOf('11'),
  elevenths: setOf('11', '#11'),
  flatThirteenth: setOf('b13'),
  thirteenth: setOf('13'),
  thirteenths: setOf('b13', '13'),
} as const;

/** What `alt` asks for: both altered fifths and both altered ninths over a shell. Common practice. */
export const ALTERED: DegreeSet = setOf('1', '3', 'b5', '#5', 'b7', 'b9', '#9');

/** Degrees that cannot be asked for together, and why. */
const CLASHES: readonly (readonly [a: DegreeSet, b: DegreeSet, why: string])[] = [
  [setOf('9'), setOf('b9'), 'no ninth is both plain and flattened'],
  [setOf('9'), setOf('#9'), 'no ninth is both plain and raised'],
  [setOf('4', '11'), setOf('#11'), 'no eleventh is both plain and raised'],
  [setOf('6', '13'), setOf('b13'), 'no thirteenth is both plain and flattened'],
  [setOf('6', '13'), setOf('b6'), 'no sixth is both plain and flattened'],
  [setOf('b3'), setOf('#9'), 'the #9 is the same note as the minor third'],
  [setOf('b5'), setOf('#11'), 'the #11 is the same note as the b5'],
  [setOf('#5'), setOf('b13'), 'the b13 is the same note as the #5'],
  [setOf('#5'), setOf('b6'), 'the b6 is the same note as the #5'],
  [setOf('b6'), setOf('b13'), 'the b13 is the same note as the b6'],
  [setOf('6'), setOf('13'), 'the 13 is the same note as the 6'],
  [setOf('bb7'), setOf('6', '13'), 'the sixth is the same note as the diminished seventh'],
  [setOf('2'), setOf('9'), 'the 9 is the same note as the suspended second'],
  [setOf('4'), setOf('11'), 'the 11 is the same note as the suspended fourth'],
];

/** The degrees a symbol asks for, with what the degrees alone do not tell. */
export interface Assembled {
  readonly degrees: DegreeSet;
  readonly family: ChordFamily;
}

/**
 * What the parts of a symbol mean together. Common practice, with these choices:
 * - an 11 without a third of its own is the suspended ninth chord (C11 is C9sus4);
 * - a 13 brings the ninth but not the eleventh;
 * - an altered fifth takes the natural one's place, and so does a b13 (a b6 does not);
 * - an added sixth above a seventh is a 13.
 */
export function assemble(parts: Parts): Assembled | Flaw {
  if (parts.altered) return assembleAltered(parts);
  if (parts.extension === 5) return assemblePower(parts);
  const third = thirdOf(parts);
  if (typeof third !== 'number') return third;
  const fifth = fifthOf(parts);
  if (typeof fifth !== 'number') return fifth;
  const seventh = seventhOf(parts);
  if (typeof seventh !== 'number') return seventh;
  let degrees = D.root | third | fifth | seventh | tensionsOf(parts, third, seventh);
  const clash = findClash(parts, degrees);
  if (clash) return clash;
  for (const { number, from, to } of parts.omitted) {
    const left = NUMBERED.get(number);
    if (left === undefined || (degrees & left) === 0) {
      return flaw(from, to, `there is no ${number} to leave out`, '');
    }
    if (isDiminished(parts) && number <= 5) {
      return flaw(from, to, 'a diminished chord is built on its third and its fifth', '');
    }
    degrees &= ~left;
  }
  if (degrees & D.flatThirteenth) degrees &= ~D.fifth;
  return { degrees, family: familyOf(degrees, isMinor(parts)) };
}

const NUMBERED: ReadonlyMap<number, DegreeSet> = new Map([
  [3, D.third],
  [5, D.fifths],
  [7, D.sevenths],
  [9, D.ninths],
  [11, D.elevenths],
]);

const isMinor = ({ quality }: Parts): boolean => quality !== 'plain' && quality !== 'major';
const isDiminished = ({ quality }: Parts): boolean =>
  quality === 'diminished' || quality === 'half-diminished';

/** A flaw in a place where a degree was typed; at the end of the symbol where none was. */
function flawAt(parts: Parts, where: DegreeSet, message: string, ...texts: readonly string[]): Flaw {
  const place = parts.places.findLast(({ degree }) => (setOf(degree) & where) !== 0);
  return flaw(place?.from ?? parts.start, place?.to ?? parts.end, message, ...texts);
}

function assembleAltered(parts: Parts): Assembled | Flaw {
  const plain = parts.quality === 'plain' && !parts.augmented && parts.suspended === 0 && !parts.four;
  const whole = (parts.extension === 0 || parts.extension === 7) && parts.seventh !== 'major';
  if (plain && whole && parts.typed === 0 && parts.omitted.length === 0) {
    return { degrees: ALTERED, family: 'dominant' };
  }
  const message = 'alt is the whole of the chord: a dominant with b9 #9 b5 #5 and nothing besides';
  return flaw(parts.start, parts.end, message, '7alt');
}

function assemblePower(parts: Parts): Assembled | Flaw {
  const others = parts.typed & (D.alteredFifths | D.majorThird);
  if (
    parts.quality !== 'plain' ||
    parts.augmented ||
    parts.suspended ||
    parts.four ||
    others ||
    parts.seventh !== 'none'
  ) {
    const message = 'a 5 stands for a chord of root and fifth alone';
    return flaw(parts.start, parts.end, message, '5', 'm', '');
  }
  const degrees = D.root | D.fifth | parts.typed;
  return findClash(parts, degrees) ?? { degrees, family: 'power' };
}

function thirdOf(parts: Parts): DegreeSet | Flaw {
  const minor = isMinor(parts);
  const leavesThird = parts.extension === 11 && parts.quality === 'plain';
  const four = leavesThird || (parts.four && !minor) ? setOf('4') : 0;
  const suspended = parts.suspended | four;
  if (suspended === 0) {
    if (parts.typed & D.majorThird) {
      return flawAt(parts, D.majorThird, 'the third is there already', '');
    }
    return minor ? D.minorThird : D.majorThird;
  }
  if (isDiminished(parts)) {
    return flawAt(
      parts,
      0,
      'a diminished chord is built on its third, it cannot be suspended',
      'sus4',
      '7sus4',
    );
  }
  return suspended | (parts.typed & D.majorThird);
}

function fifthOf(parts: Parts): DegreeSet | Flaw {
  const typed = parts.typed & D.alteredFifths;
  if (isDiminished(parts)) {
    if (parts.augmented || typed & D.sharpFifth) {
      return flawAt(parts, D.sharpFifth, 'a diminished fifth cannot be raised as well', '');
    }
    return D.flatFifth;
  }
  const augmented = parts.augmented ? D.sharpFifth : 0;
  return typed | augmented || D.fifth;
}

function seventhOf(parts: Parts): DegreeSet | Flaw {
  const { seventh, quality } = parts;
  if (quality === 'half-diminished') {
    if (seventh === 'major')
      return flawAt(parts, 0, 'a half-diminished chord has a minor seventh', 'ø7', '°(maj7)');
    return D.minorSeventh;
  }
  if (seventh === 'none') return 0;
  const plain = quality === 'diminished' ? D.diminishedSeventh : D.minorSeventh;
  if (seventh === 'plain') return plain;
  return seventh === 'major' ? D.majorSeventh : plain | D.majorSeventh;
}

function tensionsOf(parts: Parts, third: DegreeSet, seventh: DegreeSet): DegreeSet {
  let tensions = parts.typed & ~(D.fifths | D.third);
  if (parts.extension >= 11 && (tensions & D.ninths) === 0 && (third & setOf('2')) === 0) tensions |= D.ninth;
  if (parts.extension === 11 && (third & setOf('4')) === 0) tensions |= D.eleventh;
  if (parts.four && isMinor(parts)) tensions |= D.eleventh;
  if (tensions & D.sixth && seventh & (D.minorSeventh | D.majorSeventh) && !(seventh & D.diminishedSeventh)) {
    if (!(tensions & D.thirteenth)) tensions = (tensions & ~D.sixth) | D.thirteenth;
  }
  return tensions;
}

function findClash(parts: Parts, degrees: DegreeSet): Flaw | null {
  for (const [a, b, why] of CLASHES) {
    if ((degrees & a) === 0 || (degrees & b) === 0) continue;
    const found = flawAt(parts, a | b, why, '');
    const size = parts.extension;
    if (size < 9 || parts.sizeAt < 0 || (setOf(`${size as 9 | 11 | 13}`) & (a | b)) === 0) return found;
    // The size gives way before the alteration does: C9b9 was meant as C7b9.
    const smaller = {
      from: parts.sizeAt,
      to: parts.sizeAt + `${size}`.length,
      text: size === 11 ? '9' : '7',
    };
    return { ...found, edits: [smaller, ...found.edits] };
  }
  return null;
}

/** How a chord with these degrees behaves. */
export function familyOf(degrees: DegreeSet, minor = false): ChordFamily {
  const has = (set: DegreeSet): boolean => (degrees & set) !== 0;
  if (has(D.suspensions)) return minor ? 'minor' : 'suspended';
  if (has(D.minorThird)) {
    if (has(D.fifth | D.sharpFifth) || !has(D.flatFifth)) return 'minor';
    return has(D.minorSeventh) ? 'half-diminished' : 'diminished';
  }
  if (!has(D.majorThird)) return 'power';
  if (has(D.minorSeventh)) return 'dominant';
  return has(D.sharpFifth) ? 'augmented' : 'major';
}
