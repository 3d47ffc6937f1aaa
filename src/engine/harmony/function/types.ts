import type { NoteName } from '../types.ts';

export type Mode = 'major' | 'minor';

/** A key: a tonic and a mode. */
export interface Key {
  readonly tonic: NoteName;
  readonly mode: Mode;
}

/** What a chord does in its key. */
export type HarmonicRole = 'tonic' | 'subdominant' | 'dominant';

/** By which convention a chord belongs to its key. */
export type FunctionKind =
  /** On a degree of the key. */
  | 'diatonic'
  /** Taken from the key of the same tonic and the other mode. */
  | 'borrowed'
  /** A dominant that points a fifth down to a degree of the key other than its tonic. */
  | 'secondary-dominant'
  /** A dominant that points a semitone down, standing for the one a tritone away. */
  | 'tritone-substitute'
  /** bVII7, which climbs a whole tone to the tonic. */
  | 'backdoor'
  /** A dominant chord at rest, on the tonic or the subdominant of a blues. */
  | 'blues-dominant'
  /** The minor or half-diminished chord a fifth above a dominant, which it prepares. */
  | 'related-second'
  /** A diminished chord that leads by semitone into the next chord. */
  | 'passing-diminished'
  /** None of these. */
  | 'chromatic';

/** How one span is heard. */
export interface FunctionReading {
  readonly key: Key;
  readonly role: HarmonicRole | null;
  readonly kind: FunctionKind;
  /** In ASCII, e.g. "ii7", "V7/ii", "subV7/I", "bVII7". */
  readonly label: string;
  /** Where a dominant points: the root it is expected to fall to; null for all other chords. */
  readonly target: NoteName | null;
  /** True for a dominant whose target does not come. */
  readonly evaded: boolean;
  /** One sentence a player reads. */
  readonly reason: string;
}
