/**
 * Musical and clock time as types that cannot be mixed up.
 *
 * Musical time is counted in whole ticks, never in fractions of a beat, so that sums are exact
 * and the lengths in a bar always add up to its metre.
 */
declare const unit: unique symbol;

/** A whole number of ticks; {@link PPQ} of them make a quarter note. May be negative (count-in). */
export type Ticks = number & { readonly [unit]: 'ticks' };
/** Seconds on a clock that says itself which it is. */
export type Seconds = number & { readonly [unit]: 'seconds' };
/** Quarter notes a minute. */
export type Bpm = number & { readonly [unit]: 'bpm' };

/**
 * Ticks to the quarter note: 2^6 · 3^2 · 5 · 7. Divisible by every number up to 10 and by 12, 14,
 * 15 and 16, so that a bar of four can be shared evenly by any usual number of chords; still below
 * the 15 bits a Standard MIDI File allows for its division.
 */
export const PPQ = 20160;

/** The slowest and the fastest tempo the band plays, in quarter notes a minute. */
export const TEMPO_RANGE = { min: 30, max: 400 } as const;

/**
 * A count of quarter notes as ticks.
 * @param quarters quarter notes; fractions are rounded to the nearest tick
 * @throws RangeError when `quarters` is not finite
 */
export function beats(quarters: number): Ticks {
  return ticks(Math.round(quarters * PPQ));
}

/**
 * A plain number as ticks.
 * @throws RangeError when `count` is not a whole number
 */
export function ticks(count: number): Ticks {
  if (!Number.isSafeInteger(count)) throw new RangeError(`ticks must be a whole number, not ${count}`);
  return count as Ticks;
}

/** Quarter notes, for display and for arithmetic that may be inexact. */
export function toQuarters(at: Ticks): number {
  return at / PPQ;
}

/**
 * A tempo.
 * @param value quarter notes a minute
 * @throws RangeError outside {@link TEMPO_RANGE}
 */
export function bpm(value: number): Bpm {
  if (!(value >= TEMPO_RANGE.min && value <= TEMPO_RANGE.max)) {
    throw new RangeError(
      `tempo must lie between ${TEMPO_RANGE.min} and ${TEMPO_RANGE.max} bpm, not ${value}`,
    );
  }
  return value as Bpm;
}

/** How long `length` ticks last at `tempo`. */
export function secondsOf(length: Ticks, tempo: Bpm): Seconds {
  return ((length / PPQ) * (60 / tempo)) as Seconds;
}

/** How many ticks (with a fraction) `length` seconds hold at `tempo`. */
export function ticksIn(length: Seconds, tempo: Bpm): number {
  return (length * tempo * PPQ) / 60;
}
