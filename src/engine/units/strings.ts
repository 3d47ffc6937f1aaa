/** A place on a fretted string. Strings are counted from the highest, as players count them; fret 0 is open. */
export interface Stop {
  readonly string: number;
  readonly fret: number;
}

/** 1 is the index finger, 4 the little finger; 0 stands for an open string. */
export type Finger = 0 | 1 | 2 | 3 | 4;

/** E A D G B E from the lowest string up, as MIDI keys: the guitar's standard tuning. Common practice. */
export const STANDARD_TUNING: readonly number[] = Object.freeze([40, 45, 50, 55, 59, 64]);

/**
 * How far a fret lies from the nut, as a part of the string's length: 1 − 2^(−n/12). Computed from equal
 * temperament.
 */
export const fretPlace = (fret: number): number => 1 - 2 ** (-fret / 12);
