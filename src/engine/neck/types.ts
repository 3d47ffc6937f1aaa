import type { Degree, NoteName, Role } from '../harmony/index.ts';
import type { Finger, Midi, Stop } from '../units/index.ts';

/** An instrument as it lies in the hands. */
export interface NeckSetting {
  /** Open strings without a capo, from the bass side to the treble side, as MIDI keys. */
  readonly tuning: readonly number[];
  /** The fret the capo is at; 0 for none. Open strings sound there. */
  readonly capo: number;
  /** The highest fret in use, counted from the nut. */
  readonly lastFret: number;
}

/** What a note of a neck is drawn and spelled from: a note of a scale or of a chord. */
export interface Tone {
  readonly degree: Degree;
  /** Spelled by its degree. */
  readonly name: NoteName;
  /** The readable spelling: never a double accidental. */
  readonly plain: NoteName;
  /** Pitch class, 0 (C) to 11 (B). */
  readonly pc: number;
  readonly role: Role;
}

/**
 * A note where it lies on a neck. Strings are counted from the highest, as players count them; frets are
 * counted from the nut, so that the open string under a capo at fret 3 is fret 3.
 */
export interface NeckNote extends Stop, Tone {
  readonly pitch: Midi;
}

/** A note of a form, and the finger that plays it: 1 the index finger to 4 the little one, 0 an open string. */
export interface FormNote extends NeckNote {
  readonly finger: Finger;
}

/** How a scale is laid out on a neck. */
export type FormView = 'position' | 'three-per-string' | 'two-strings' | 'one-string';

export interface FormOptions {
  /** `position` when left out: windows under one hand, across all strings. */
  readonly view?: FormView;
  /** For `two-strings` the number of the higher one, for `one-string` its own; 1 when left out. */
  readonly string?: number;
}

/** A stretch of a scale under the hand: each pitch from the lowest to the highest just once. */
export interface ScaleForm {
  /** The same shape further up the neck has the same number. */
  readonly number: number;
  /** E.g. "Form 2". */
  readonly label: string;
  /** In ascending order of pitch, without a gap. */
  readonly notes: readonly FormNote[];
  /** The lowest and the highest fret in it. */
  readonly firstFret: number;
  readonly lastFret: number;
  /** The fret the index finger rests at: "5th position". */
  readonly position: number;
}
