import { ORDER, type DegreeSet } from '../degrees.ts';
import { ORDINALS } from './data.ts';

/** Two degrees that are not asked for together, and why. */
export interface Clash {
  readonly both: DegreeSet;
  readonly why: string;
}

/** The semitones of the degrees of ORDER above the root, within the octave. */
const SEMITONES: readonly number[] = [0, 2, 3, 4, 5, 6, 7, 8, 8, 9, 9, 10, 11, 1, 2, 3, 5, 6, 8, 9];

const numberOf = (degree: string): number => Number(degree.replace(/[b#]+/, ''));
const isPlain = (degree: string): boolean => /^\d/.test(degree);

/**
 * Degrees that contradict or repeat each other: one note under two names, and the natural form of a ninth,
 * eleventh or thirteenth beside an altered one. Altered forms of one number go together (b9 and #9, b5 and
 * #5). Computed from the degrees; common practice.
 */
export const CLASHES: readonly Clash[] = ORDER.flatMap((one, low) =>
  ORDER.slice(low + 1).flatMap((other, distance): Clash[] => {
    const high = low + 1 + distance;
    const both = (1 << low) | (1 << high);
    if (SEMITONES[low] === SEMITONES[high]) {
      return [{ both, why: `the ${other} is the same note as the ${one}` }];
    }
    const number = numberOf(other);
    if (number < 9 || (number - numberOf(one)) % 7 !== 0 || isPlain(one) === isPlain(other)) return [];
    const how = /b/.test(one + other) ? 'flattened' : 'raised';
    return [{ both, why: `no ${ORDINALS[number]} is both plain and ${how}` }];
  }),
);
