import { beatLength, PPQ, type Bpm, type HomeKey, type Metre } from '../../engine/index.ts';
import { fifthsOf } from '../key.ts';

/** The largest number a Standard MIDI File can write as a variable-length quantity. */
export const LARGEST = 0x0fffffff;

/**
 * A number in groups of seven bits, all but the last with the high bit set.
 * @throws RangeError when `value` is not a whole number from 0 to {@link LARGEST}
 */
export function quantity(value: number): readonly number[] {
  if (!Number.isInteger(value) || value < 0 || value > LARGEST) {
    throw new RangeError(`a MIDI file counts from 0 to ${LARGEST}, not ${value}`);
  }
  const bytes = [value & 0x7f];
  for (let rest = value >> 7; rest > 0; rest >>= 7) bytes.unshift((rest & 0x7f) | 0x80);
  return bytes;
}

/** The kinds of text in a file, by the number of their event. */
const TEXTS = { text: 0x01, name: 0x03, instrument: 0x04, marker: 0x06 } as const;

/** A text event. The letters are UTF-8, which is ASCII for chord symbols. */
export function textEvent(kind: keyof typeof TEXTS, text: string): readonly number[] {
  const bytes = new TextEncoder().encode(text);
  return [0xff, TEXTS[kind], ...quantity(bytes.length), ...bytes];
}

/** From here on a quarter note lasts as long as at `tempo`, to the microsecond. */
export function tempoEvent(tempo: Bpm): readonly number[] {
  const length = Math.round(60_000_000 / tempo);
  return [0xff, 0x51, 3, (length >> 16) & 0xff, (length >> 8) & 0xff, length & 0xff];
}

/** MIDI clocks in a quarter note. */
const CLOCKS = 24;

/** A time signature: both numbers, clocks from click to click, and 32nd notes to the quarter. */
export function metreEvent(metre: Metre): readonly number[] {
  const clocks = Math.round((beatLength(metre) / PPQ) * CLOCKS);
  return [0xff, 0x58, 4, metre.count, Math.log2(metre.unit), clocks, 8];
}

/** A key signature; null where the key has more than seven sharps or flats. */
export function keyEvent(key: HomeKey): readonly number[] | null {
  const fifths = fifthsOf(key);
  return fifths === null ? null : [0xff, 0x59, 2, fifths & 0xff, key.mode === 'minor' ? 1 : 0];
}
