import type { Degree, NoteName, Role } from '../harmony/index.ts';

/** One note of a scale over a chord. */
export interface ScaleNote {
  readonly degree: Degree;
  /** Spelled by its degree: the letter agrees with the degree's number. */
  readonly name: NoteName;
  /** The readable spelling: never a double accidental. */
  readonly plain: NoteName;
  /** Pitch class, 0 (C) to 11 (B). */
  readonly pc: number;
  readonly role: Role;
}

/** A scale that fits a span, named from the root of the chord that sounds. */
export interface ScaleChoice {
  /** Key into the scale table, e.g. "altered". */
  readonly id: string;
  readonly root: NoteName;
  /** E.g. "C altered". */
  readonly name: string;
  readonly notes: readonly ScaleNote[];
  /** The parent view, e.g. `{ name: 'Db melodic minor', degree: 7 }`; null where a scale has none. */
  readonly parent: { readonly name: string; readonly degree: number } | null;
  /** Why it fits here, in one sentence. */
  readonly reason: string;
}
