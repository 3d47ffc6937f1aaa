import { midi, type HeardNote, type Seconds } from '../../engine/index.ts';

/** What was seen at one moment of a note. */
export interface Frame {
  /** Where the look began and ended, samples. */
  readonly from: number;
  readonly to: number;
  /** Key with a fraction; null where there is none. */
  readonly key: number | null;
  readonly clarity: number;
  /** Root mean square. */
  readonly level: number;
}

/** Looks that are clearer than this see one string (our choice, by measure). */
export const CLEAR = 0.75;
/** The stroke itself is left out of the pitch, seconds. */
const STROKE = 0.008;
/** Shorter sounds are squeaks and knocks, seconds. */
const SHORTEST = { note: 0.035, chord: 0.08 } as const;

/** What one note's frames say together; null where they say nothing. */
export function noteOf(
  frames: readonly Frame[],
  from: number,
  to: number,
  rate: number,
  /** Whether a pitch is that of one string. */
  isOne: (key: number) => boolean,
): HeardNote | null {
  const seconds = (to - from) / rate;
  const inside = frames.filter((frame) => frame.from >= from + STROKE * rate && frame.to <= to);
  const seen = inside.length > 0 ? inside : frames.filter((frame) => frame.to > from && frame.from < to);
  const clear = seen.filter(({ key, clarity }) => key !== null && clarity >= CLEAR);
  const level = Math.max(0, ...seen.map((frame) => frame.level));
  const whole = { at: (from / rate) as Seconds, length: seconds as Seconds, level };
  const chord = { ...whole, pitch: null, cents: 0, clarity: mean(seen.map(({ clarity }) => clarity)) };
  if (clear.length < Math.max(2, seen.length * 0.4)) return seconds >= SHORTEST.chord ? chord : null;
  if (seconds < SHORTEST.note) return null;
  const key = middle(clear.map((frame) => frame.key!));
  const pitch = Math.round(key);
  if (pitch < 0 || pitch > 127) return null;
  if (!isOne(key)) return seconds >= SHORTEST.chord ? chord : null;
  const own = clear.filter((frame) => Math.abs(frame.key! - key) < 0.6);
  return {
    ...whole,
    pitch: midi(pitch),
    cents: Math.round(100 * (key - pitch)),
    clarity: mean(own.map(({ clarity }) => clarity)),
  };
}

const mean = (values: readonly number[]) =>
  values.length === 0 ? 0 : values.reduce((sum, value) => sum + value, 0) / values.length;

const middle = (values: readonly number[]) =>
  values.toSorted((a, b) => a - b)[Math.floor(values.length / 2)]!;
