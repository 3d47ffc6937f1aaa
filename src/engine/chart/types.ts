import type { Chord } from '../harmony/index.ts';
import type { Metre, Ticks } from '../units/index.ts';

/** Something in the text that needs the writer's eye. The rest of the chart still plays. */
export interface Problem {
  readonly severity: 'error' | 'warning';
  /** Offsets into the chart's text, `to` exclusive. */
  readonly from: number;
  readonly to: number;
  /** Counted from 1. */
  readonly line: number;
  readonly column: number;
  /** What is wrong. */
  readonly message: string;
  /** What to do about it. */
  readonly remedy: string;
}

/** One harmony within a written bar. */
export interface Slot {
  /** From the start of the bar. */
  readonly at: Ticks;
  readonly length: Ticks;
  readonly chord: Chord | null;
  /** Why there is no chord; null when there is one. */
  readonly silence: 'no-chord' | 'gap' | null;
  /** True for a chord in round brackets: played, and shown as optional. */
  readonly optional: boolean;
  /** Offsets of the symbol. In a simile bar they are those of the bar it repeats. */
  readonly from: number;
  readonly to: number;
}

/** A place the player is sent from or to: the signs of a road map. */
export type Sign =
  | 'segno'
  | 'coda'
  | 'to-coda'
  | 'fine'
  | 'dc'
  | 'ds'
  | 'dc-al-fine'
  | 'dc-al-coda'
  | 'ds-al-fine'
  | 'ds-al-coda';

/** A written bar. */
export interface Bar {
  readonly index: number;
  /** Offsets of what is played in the bar, from its first sign to its last; alike in an empty bar. */
  readonly from: number;
  readonly to: number;
  readonly metre: Metre;
  readonly length: Ticks;
  /** The slots fill the bar from 0 to `length` without gap or overlap. */
  readonly slots: readonly Slot[];
  /** How the bar was written: chords, or a simile mark for one or two bars. */
  readonly simile: 0 | 1 | 2;
  readonly mark: string | null;
  readonly repeatStart: boolean;
  /** How often the repeated stretch ending here is played in all; 0 when no repeat ends here. */
  readonly repeatEnd: number;
  /** The passes on which this bar's ending is played, e.g. [1]; null outside endings. */
  readonly ending: readonly number[] | null;
  /** True when an ending begins with this bar. */
  readonly endingStart: boolean;
  readonly signs: readonly Sign[];
  /** Words above the bar, written in double quotes. */
  readonly note: string | null;
  /** True when a metre is written in this bar. */
  readonly newMetre: boolean;
  /** True when the bar ends with a double bar line. */
  readonly doubleEnd: boolean;
}

/** A typed chart, read. Never loses text: `text` is what was typed. */
export interface Chart {
  readonly text: string;
  readonly bars: readonly Bar[];
  readonly problems: readonly Problem[];
}

/** The chart unfolded: written bars in the order they are played in one chorus. */
export interface Form {
  readonly length: Ticks;
  readonly bars: readonly FormBar[];
  /** Found while unfolding: a form too long to be played to its end. */
  readonly problems: readonly Problem[];
}

export interface FormBar {
  readonly bar: Bar;
  readonly start: Ticks;
  /** Which time through a repeated stretch, from 1. */
  readonly pass: number;
}
