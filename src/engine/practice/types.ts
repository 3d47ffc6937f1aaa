import type { Dropout } from '../band/index.ts';
import type { Bpm, Ticks } from '../units/index.ts';

/** A tempo plan: from one tempo to another, by so much, after so many rounds. It may lead down. */
export interface Ladder {
  readonly from: Bpm;
  readonly to: Bpm;
  /** Beats a minute from rung to rung, more than 0. */
  readonly step: number;
  /** Rounds on each rung, 1 or more. */
  readonly rounds: number;
}

/** The orders of keys. Falling fifths, semitones, whole tones and minor thirds are common practice. */
export const KEY_ORDERS = [
  'falling-fifths',
  'rising-semitones',
  'falling-semitones',
  'whole-tones',
  'minor-thirds',
  'shuffled',
] as const;
export type KeyOrder = (typeof KEY_ORDERS)[number];

/** The order of keys a snippet or a vamp goes through. */
export interface KeyRound {
  readonly order: KeyOrder;
  /** Rounds in each key, 1 or more. */
  readonly rounds: number;
}

/** What happens from round to round while a stretch is practised. Everything off is {@link NO_PRACTICE}. */
export interface Practice {
  /** How much of the form is heard before the snippet, and how much after it. Without a loop they do nothing. */
  readonly runUp: Ticks;
  readonly landing: Ticks;
  /** Bars of silence after each round, then bars that are counted in. 0 for none. */
  readonly rest: number;
  readonly countIn: number;
  readonly ladder: Ladder | null;
  readonly keys: KeyRound | null;
  readonly dropout: Dropout | null;
}

/**
 * How far practice has come: from round `ladder.round` on the ladder stands at `ladder.tempo`, and at
 * `keys.round` the key round has gone `keys.step` keys. All else follows from the number of a round.
 */
export interface Standing {
  readonly ladder: { readonly round: number; readonly tempo: Bpm };
  readonly keys: { readonly round: number; readonly step: number };
}
