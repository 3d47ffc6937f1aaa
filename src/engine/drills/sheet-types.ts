import type { Chord, Degree, NoteName } from '../harmony/index.ts';
import type { Metre, Stop, Ticks } from '../units/index.ts';

/** A note's place on a staff: letter and octave as it is read (middle C is C4), and its sharps or flats. */
export interface StaffPlace {
  readonly letter: string;
  readonly octave: number;
  /** Sharps as positive, flats as negative numbers. */
  readonly alter: number;
}

/** Whole, half, quarter, eighth, sixteenth. */
export type SheetValue = 1 | 2 | 4 | 8 | 16;

/** One sign of a bar: a note or a rest of a length that one sign can have. */
export interface SheetSign {
  /** From the start of the drill. */
  readonly at: Ticks;
  readonly length: Ticks;
  readonly value: SheetValue;
  readonly dotted: boolean;
  /** True for a rest that stands for its whole bar, whatever its metre. */
  readonly wholeBar: boolean;
  /** Signs of one number, in one bar, are played three in the time of two; null outside triplets. */
  readonly triplet: number | null;
  /** Signs of one number, in one bar, are under one beam. */
  readonly beam: number | null;
  /** Null for a rest. */
  readonly note: SheetNote | null;
}

export interface SheetNote {
  /** Index into the drill's notes. */
  readonly index: number;
  readonly place: StaffPlace;
  /** The sign to print before it: what its bar has not said yet; null for none. */
  readonly accidental: '##' | '#' | 'n' | 'b' | 'bb' | null;
  /** Tied from the sign before, and on to the next one. */
  readonly tiedFrom: boolean;
  readonly tiedTo: boolean;
  readonly name: NoteName;
  readonly degree: Degree | null;
  readonly stop: Stop | null;
  readonly accent: boolean;
}

export interface SheetBar {
  readonly start: Ticks;
  readonly length: Ticks;
  readonly metre: Metre;
  /** True where the metre is printed. */
  readonly newMetre: boolean;
  /** The signs fill the bar. */
  readonly signs: readonly SheetSign[];
  /** Chord symbols where they begin. */
  readonly chords: readonly { readonly at: Ticks; readonly chord: Chord | null }[];
}
