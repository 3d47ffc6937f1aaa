import type { Place } from './problems.ts';
import type { Token } from './tokens.ts';
import type { Bar } from './types.ts';

export type TokenOf<K extends Token['kind']> = Extract<Token, { readonly kind: K }>;

/** Something that takes up time in a bar. */
export interface Item extends Place {
  readonly kind: 'word' | 'no-chord' | 'hold' | 'simile' | 'double-simile';
  /** Shares of the bar: one for itself and one for each slash after it. */
  weight: number;
  readonly optional: boolean;
}

/** True for an item that has no chord of its own. */
export const holdsBefore = ({ kind }: Item): boolean => kind !== 'word' && kind !== 'no-chord';

/** A bar as its tokens stand in the text, before lengths are known. */
export interface RawBar {
  from: number;
  to: number;
  items: Item[];
  /** True when a slash was written, so that lengths count in beats. */
  slashed: boolean;
  /** How the bar as a whole was written: chords, or a simile mark for one or two bars. */
  simile: 0 | 1 | 2;
  repeatStart: Place | null;
  repeatEnd: Place | null;
  times: TokenOf<'times'> | null;
  doubleEnd: boolean;
  marks: TokenOf<'mark'>[];
  notes: string[];
  metre: TokenOf<'metre'> | null;
  ending: TokenOf<'ending'> | null;
  signs: TokenOf<'sign'>[];
}

/** A bar with the tokens it came from. */
export interface ReadBar {
  readonly bar: Bar;
  readonly raw: RawBar;
}

/** Stands for an empty list in most bars, so that a long chart stays light. Never added to. */
const NONE: never[] = [];

export const emptyBar = (at: number): RawBar => ({
  from: at,
  to: at,
  items: [],
  slashed: false,
  simile: 0,
  repeatStart: null,
  repeatEnd: null,
  times: null,
  doubleEnd: false,
  marks: NONE,
  notes: NONE,
  metre: null,
  ending: null,
  signs: NONE,
});

/** `list` with `items` at its end: the same list, unless it was empty. */
export function append<T>(list: T[], items: readonly T[]): T[] {
  if (list.length === 0) return [...items];
  list.push(...items);
  return list;
}
