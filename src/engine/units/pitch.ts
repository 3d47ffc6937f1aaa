declare const unit: unique symbol;

/** A MIDI key number, 0 to 127; 60 is middle C (C4), 69 is A4. */
export type Midi = number & { readonly [unit]: 'midi' };
/** How hard a note is struck, 1 to 127 as in MIDI. */
export type Velocity = number & { readonly [unit]: 'velocity' };

/**
 * A MIDI key number.
 * @throws RangeError when `value` is not a whole number from 0 to 127
 */
export function midi(value: number): Midi {
  if (!Number.isInteger(value) || value < 0 || value > 127) {
    throw new RangeError(`a MIDI key number is a whole number from 0 to 127, not ${value}`);
  }
  return value as Midi;
}

/** The nearest velocity to `value`, kept within 1 to 127. */
export function velocity(value: number): Velocity {
  return Math.min(127, Math.max(1, Math.round(value))) as Velocity;
}

/**
 * The frequency of a key in equal temperament at A4 = 440 Hz (ISO 16:1975).
 * @param key MIDI key number, fractions allowed
 * @returns hertz
 */
export function frequency(key: number): number {
  return 440 * 2 ** ((key - 69) / 12);
}
