/**
 * A spelled pitch class in ASCII: a letter A to G, then sharps or flats, e.g. "C", "Eb", "F##".
 * The page prints it with real accidental signs.
 */
export type NoteName = string;

/**
 * A degree counted from a root, e.g. "1", "b9", "#11", "bb7". The number is the distance in letter
 * names (9 is a letter above the octave), the accidentals alter the major scale's degree.
 */
export type Degree = `${'' | 'b' | 'bb' | '#' | '##'}${1 | 2 | 3 | 4 | 5 | 6 | 7 | 9 | 11 | 13}`;

/** What a degree does in its chord. */
export type Role = 'root' | 'guide' | 'fifth' | 'tension' | 'scale' | 'avoid';

/** How a chord behaves, whatever its colour. */
export type ChordFamily =
  'major' | 'minor' | 'dominant' | 'half-diminished' | 'diminished' | 'augmented' | 'suspended' | 'power';

/** A chord symbol, read. */
export interface Chord {
  /** The symbol as typed, e.g. "C7(#9,b13)". */
  readonly text: string;
  readonly root: NoteName;
  /** The bass note of a slash chord, else null. */
  readonly bass: NoteName | null;
  readonly family: ChordFamily;
  /**
   * The chord tones the symbol asks for, from the root up in the order 1 3 5 6 7 9 11 13 (2 and 4
   * stand for the third in suspended chords), each once. `alt` is 1 3 b5 #5 b7 b9 #9.
   */
  readonly degrees: readonly Degree[];
  /** True when the symbol itself says `alt`. */
  readonly altered: boolean;
}

/** Why a symbol could not be read. Offsets are into the symbol. */
export interface ChordProblem {
  readonly from: number;
  readonly to: number;
  /** What is wrong, e.g. "no ninth is flattened twice". */
  readonly message: string;
  /** What would be right, e.g. "did you mean C7b9?"; null when nothing is near. */
  readonly remedy: string | null;
}
