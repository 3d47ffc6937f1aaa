import type { Degree, NoteName } from './types.ts';

/** A pitch class as it is written: a letter, counted from C = 0 to B = 6, and its accidentals. */
export interface Spelling {
  readonly letter: number;
  /** Sharps as positive, flats as negative numbers. */
  readonly alter: number;
}

/** An interval: how many letter names it climbs and how many semitones. Down is negative. */
export interface Interval {
  readonly letters: number;
  readonly semitones: number;
}

/** The letter names and their semitones above C. Common practice. */
const LETTERS = 'CDEFGAB';
const NATURALS: readonly number[] = [0, 2, 4, 5, 7, 9, 11];

/** The names a player reads most easily, from C up. Our choice, because they are the roots most charts use. */
const COMMON: readonly NoteName[] = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];

/** The remainder of `value` by `modulus`, never negative. */
export const mod = (value: number, modulus: number): number => ((value % modulus) + modulus) % modulus;

/** The most accidentals a note name carries: those of the highest degree on the most remote root. */
const MOST_SIGNS = 5;

/**
 * A note name taken apart.
 * @throws RangeError when `name` is not a letter A to G with at most five sharps or flats
 */
export function spellingOf(name: NoteName): Spelling {
  const letter = name === '' ? -1 : LETTERS.indexOf(name[0]!);
  const sign = name.charAt(1);
  let alike = letter >= 0 && name.length <= 1 + MOST_SIGNS && (sign === '' || sign === 'b' || sign === '#');
  for (let i = 2; i < name.length; i++) alike &&= name[i] === sign;
  if (!alike) throw new RangeError(`a note name is a letter A to G with sharps or flats, not "${name}"`);
  return { letter, alter: sign === 'b' ? 1 - name.length : name.length - 1 };
}

/** A note name put together. */
export function nameOf({ letter, alter }: Spelling): NoteName {
  return LETTERS[mod(letter, 7)]! + (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter));
}

/**
 * The pitch class of a note name, 0 (C) to 11 (B).
 * @throws RangeError when `name` is not a note name
 */
export function pitchClass(name: NoteName): number {
  const { letter, alter } = spellingOf(name);
  return mod(NATURALS[letter]! + alter, 12);
}

/** The semitones from the root up to a degree: 0 for "1", 13 for "b9", 21 for "13". */
export function degreeSemitones(degree: Degree): number {
  return degreeInterval(degree).semitones;
}

const INTERVALS: ReadonlyMap<string, Interval> = new Map(
  ['', 'b', 'bb', '#', '##'].flatMap((signs) =>
    [1, 2, 3, 4, 5, 6, 7, 9, 11, 13].map(
      (number) => [signs + number, intervalUp(number - 1, signs)] as const,
    ),
  ),
);

function intervalUp(letters: number, signs: string): Interval {
  const alter = signs.startsWith('b') ? -signs.length : signs.length;
  return Object.freeze({ letters, semitones: NATURALS[letters % 7]! + 12 * Math.floor(letters / 7) + alter });
}

/**
 * A degree as an interval above its root.
 * @throws RangeError when `degree` is not a degree
 */
export function degreeInterval(degree: Degree): Interval {
  const interval = INTERVALS.get(degree);
  if (!interval) throw new RangeError(`a degree is a number with sharps or flats before it, not "${degree}"`);
  return interval;
}

/**
 * The note at an interval from `name`, spelled so that its letter agrees with the interval.
 * @throws RangeError when `name` is not a note name
 */
export function transposeName(name: NoteName, { letters, semitones }: Interval): NoteName {
  const from = spellingOf(name);
  const letter = mod(from.letter + letters, 7);
  const octaves = Math.floor((from.letter + letters) / 7);
  const natural = NATURALS[letter]! + 12 * octaves;
  return nameOf({ letter, alter: NATURALS[from.letter]! + from.alter + semitones - natural });
}

/** The interval from one note name up to another, less than an octave of letters. */
export function intervalBetween(from: NoteName, to: NoteName): Interval {
  const low = spellingOf(from);
  const high = spellingOf(to);
  const octave = high.letter < low.letter ? 12 : 0;
  const semitones = NATURALS[high.letter]! + high.alter + octave - NATURALS[low.letter]! - low.alter;
  return { letters: mod(high.letter - low.letter, 7), semitones };
}

/** The note of `degree` over `root`: the letter agrees with the degree's number. "b9" over "Db" is "Ebb". */
export function spell(root: NoteName, degree: Degree): NoteName {
  return transposeName(root, degreeInterval(degree));
}

/**
 * The readable name of a note: never a double accidental, and the natural note's own name where there
 * is one ("Ebb" is "D", "E#" is "F"). "Db" and "C#" stay what they are.
 */
export function plainName(name: NoteName): NoteName {
  const { letter, alter } = spellingOf(name);
  if (alter === 0) return name;
  const pc = mod(NATURALS[letter]! + alter, 12);
  const natural = NATURALS.indexOf(pc);
  if (natural >= 0) return LETTERS[natural]!;
  if (Math.abs(alter) === 1) return name;
  return alter < 0 ? `${LETTERS[NATURALS.indexOf(pc + 1)]!}b` : `${LETTERS[NATURALS.indexOf(pc - 1)]!}#`;
}

/** The most common name of a pitch class. */
export function commonName(pc: number): NoteName {
  return COMMON[mod(pc, 12)]!;
}

const SIGNS: Readonly<Record<string, string>> = { bb: '𝄫', '##': '𝄪', b: '♭', '#': '♯' };

const withSigns = (text: string): string => text.replace(/bb|##|b|#/g, (sign) => SIGNS[sign]!);

/** A note name with real accidental signs: "Bb" is "B♭", "F##" is "F𝄪". */
export const prettyName = (name: NoteName): string => withSigns(name);

/** A degree with real accidental signs: "b9" is "♭9". */
export const prettyDegree = (degree: Degree): string => withSigns(degree);

/**
 * Any label with its note names, chord symbols and degrees in real accidental signs: "Dbmaj7, Db lydian b7"
 * is "D♭maj7, D♭ lydian ♭7"; and an apostrophe is set as one.
 */
export const prettyText = (label: string): string =>
  label
    .replaceAll("'", '’')
    .replace(
      /\b([A-G])(bb|##|b|#)(?![a-z])|\b([A-G])(b|#)(?=m(?![a-z])|mi|maj|dim|aug|sus|alt|add)|(^|[^A-Za-z])(bb|b|#)(?=\d|[IV]|[iv]+(?![a-z]))/g,
      (whole) => withSigns(whole),
    );
