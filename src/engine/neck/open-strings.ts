import { commonName } from '../harmony/index.ts';
import { fail, ok, type Result } from '../units/index.ts';

/** Why open strings could not be read. Offsets are into the text. */
export interface TuningProblem {
  readonly from: number;
  readonly to: number;
  /** What is wrong. */
  readonly message: string;
  /** What would be right. */
  readonly remedy: string;
}

/** How many strings a neck can have. */
export const STRINGS = Object.freeze({ least: 4, most: 8 });

/** Where open strings can lie: the lowest keeps above what is heard as a tone, the highest has frets above it. */
const KEYS = Object.freeze({ lowest: 21, highest: 88 });

/** Semitones above C. Common practice. */
const LETTERS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

const NAME = /^([A-G])(b|#|♭|♯)?(\d)?$/i;

/** The lowest guitar string: where a first string without a number is looked for. */
const NEAR = 40;

/**
 * Open strings as a player writes them, from the bass side on: "E2 A2 D3 G3 B3 E4", or letters alone, each
 * then the next such note above the one before: "D A D G A D".
 * @returns MIDI keys, or the first thing that is wrong
 */
export function readTuning(text: string): Result<readonly number[], TuningProblem> {
  const keys: number[] = [];
  for (const { 0: word, index } of text.matchAll(/[^\s,;]+/g)) {
    const key = keyOf(word, keys[keys.length - 1] ?? null);
    const place = { from: index, to: index + word.length };
    if (key === null) {
      return fail({
        ...place,
        message: `${word} is no open string.`,
        remedy: 'Write a letter A to G, with b or # after it, and the octave where needed: D2 A2 D3.',
      });
    }
    if (key < KEYS.lowest || key > KEYS.highest) {
      return fail({
        ...place,
        message: `${word} lies too ${key < KEYS.lowest ? 'low' : 'high'} for an open string.`,
        remedy: `Open strings go from ${nameOfKey(KEYS.lowest)} to ${nameOfKey(KEYS.highest)}.`,
      });
    }
    keys.push(key);
  }
  if (keys.length < STRINGS.least || keys.length > STRINGS.most) {
    return fail({
      from: 0,
      to: text.length,
      message: `A neck has ${STRINGS.least} to ${STRINGS.most} strings, not ${keys.length}.`,
      remedy: 'Write one note for each string, from the bass side on: E A D G B E.',
    });
  }
  return ok(keys);
}

function keyOf(word: string, below: number | null): number | null {
  const [, letter, sign, octave] = NAME.exec(word) ?? [];
  if (letter === undefined) return null;
  const natural = LETTERS[letter.toUpperCase()]!;
  const tone = natural + (sign === undefined ? 0 : '#♯'.includes(sign) ? 1 : -1);
  if (octave !== undefined) return 12 * (Number(octave) + 1) + tone;
  // Nearest to the guitar's lowest string, or above the string before.
  if (below === null) return NEAR - 6 + ((((tone - NEAR + 6) % 12) + 12) % 12);
  return below + 1 + ((((tone - below - 1) % 12) + 12) % 12);
}

/** A key as an open string is written: "Eb4". Middle C is C4. */
export const nameOfKey = (key: number): string => `${commonName(key % 12)}${Math.floor(key / 12) - 1}`;

/** Open strings as {@link readTuning} reads them. */
export const printTuning = (open: readonly number[]): string => open.map(nameOfKey).join(' ');
