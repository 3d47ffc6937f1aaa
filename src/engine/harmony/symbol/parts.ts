import type { ChordDegree, DegreeSet } from '../degrees.ts';
import type { NoteName } from '../types.ts';

/** A stretch of the symbol and what might stand there instead. */
export interface Edit {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** What is wrong with a symbol, where, and the edits that might mend it, likeliest first. */
export interface Flaw {
  readonly from: number;
  readonly to: number;
  readonly message: string;
  readonly edits: readonly Edit[];
}

/** A flaw in a stretch of the symbol, with texts that might stand in its place. */
export const flaw = (from: number, to: number, message: string, ...texts: readonly string[]): Flaw => ({
  from,
  to,
  message,
  edits: texts.map((text) => ({ from, to, text })),
});

/** The flaw with one more edit, likelier than the others. */
export const likelier = (found: Flaw, from: number, to: number, text: string): Flaw => ({
  ...found,
  edits: [{ from, to, text }, ...found.edits],
});

/** A degree as typed, with its place. */
export interface Typed {
  readonly degree: ChordDegree;
  readonly from: number;
  readonly to: number;
}

/** The parts of a symbol, as typed; what they mean together is for `assemble.ts` to say. */
export interface Parts {
  root: NoteName;
  bass: NoteName | null;
  quality: 'plain' | 'major' | 'minor' | 'diminished' | 'half-diminished';
  augmented: boolean;
  altered: boolean;
  /** The chord's size, its first number: 0 for none, else 2, 4, 5, 6, 7, 9, 11 or 13. */
  size: number;
  /** Where the size stands. */
  sizeAt: number;
  seventh: 'none' | 'plain' | 'major' | 'both';
  /** The second and the fourth, where they stand for the third. */
  suspended: DegreeSet;
  /** A bare 4: stands for a major third, and is an eleventh over a minor one. */
  four: boolean;
  /** Degrees typed by their own number or sign. */
  typed: DegreeSet;
  readonly places: Typed[];
  /** Numbers the symbol says to leave out. */
  readonly omitted: { readonly number: number; readonly from: number; readonly to: number }[];
  /** Where the suffix begins and where the symbol ends, brackets around the whole taken off. */
  start: number;
  end: number;
}

/** A symbol being read from left to right. */
export interface Scan {
  /** The symbol, its signs replaced by their ASCII equivalents. */
  readonly text: string;
  /** The same in small letters. */
  readonly lower: string;
  readonly parts: Parts;
  at: number;
  /** The brackets opened and not yet closed. */
  brackets: string;
  /** After a comma or a slash a number is a degree of its own, no longer the chord's size. */
  listing: boolean;
  /** Where a bare 7, 9, 11 or 13 ended: a `maj` or `min` right behind it belongs to it. */
  numberEnd: number;
}

/** A symbol about to be read. */
export const beginScan = (text: string): Scan => ({
  text,
  lower: text.toLowerCase(),
  parts: {
    root: '',
    bass: null,
    quality: 'plain',
    augmented: false,
    altered: false,
    size: 0,
    sizeAt: -1,
    seventh: 'none',
    suspended: 0,
    four: false,
    typed: 0,
    places: [],
    omitted: [],
    start: 0,
    end: text.length,
  },
  at: 0,
  brackets: '',
  listing: false,
  numberEnd: -1,
});
