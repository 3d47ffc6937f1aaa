import type { NoteName, Ticks } from '../../engine/index.ts';

/** A note to write on a staff. */
export interface StaffNote {
  /** From the start of the first bar. */
  readonly at: Ticks;
  readonly length: Ticks;
  /** MIDI key number. */
  readonly pitch: number;
  /** The pitch as spelled, e.g. "Eb". */
  readonly name: NoteName;
  /** Where it lies on the neck: strings counted from the highest, from 1. */
  readonly place?: { readonly string: number; readonly fret: number };
}
