import { ticks } from '../units/index.ts';
import type { KeyOrder, Practice } from './types.ts';

/**
 * Semitones above the home key, key by key. Whole tones and minor thirds come back to where they began
 * before every key was met; a semitone then leads into the keys that are left, so that each order meets
 * all twelve (our choice). `shuffled` is by chance.
 */
export const KEY_STEPS: Readonly<Record<Exclude<KeyOrder, 'shuffled'>, readonly number[]>> = {
  'falling-fifths': [0, 5, 10, 3, 8, 1, 6, 11, 4, 9, 2, 7],
  'rising-semitones': [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11],
  'falling-semitones': [0, 11, 10, 9, 8, 7, 6, 5, 4, 3, 2, 1],
  'whole-tones': [0, 2, 4, 6, 8, 10, 11, 1, 3, 5, 7, 9],
  'minor-thirds': [0, 3, 6, 9, 10, 1, 4, 7, 8, 11, 2, 5],
};

/** The music goes round as it is. */
export const NO_PRACTICE: Practice = {
  runUp: ticks(0),
  landing: ticks(0),
  rest: 0,
  countIn: 0,
  ladder: null,
  keys: null,
  dropout: null,
};
