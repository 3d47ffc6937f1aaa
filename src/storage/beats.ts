import { PPQ, ticks, type Ticks } from '../engine/index.ts';

/**
 * Lengths and places as a person writes them, in quarter notes: a number where it is exact (2, 0.5),
 * else a fraction in words (`"1/3"`, `"2 1/3"`). Every tick has exactly one such form, and reading it
 * gives the same tick.
 */
export type BeatsText = number | string;

/** `""` or a whole number of beats, then a fraction. */
export const FRACTION = /^(?:\d{1,6} )?\d{1,9}\/[1-9]\d{0,8}$/;

/** The most beats a place or length may have: more than a day at any tempo. */
export const MOST_BEATS = 999_999;

/** `length` ticks as quarter notes. */
export function beatsText(length: Ticks): BeatsText {
  const whole = Math.floor(length / PPQ);
  const rest = length - whole * PPQ;
  const divisor = greatestDivisor(rest, PPQ);
  const denominator = PPQ / divisor;
  const isBinary = (denominator & (denominator - 1)) === 0;
  if (isBinary || length < 0) return length / PPQ;
  const fraction = `${rest / divisor}/${denominator}`;
  return whole === 0 ? fraction : `${whole} ${fraction}`;
}

/**
 * Ticks from what {@link beatsText} writes, or from what a person has written by hand; an inexact
 * number goes to the nearest tick. Null when it is none or too large.
 */
export function readBeats(value: BeatsText): Ticks | null {
  const quarters = typeof value === 'number' ? value * PPQ : fractionTicks(value);
  if (!Number.isFinite(quarters) || Math.abs(quarters) > MOST_BEATS * PPQ) return null;
  return ticks(Math.round(quarters) + 0);
}

function fractionTicks(text: string): number {
  if (!FRACTION.test(text)) return NaN;
  const [fraction, whole] = text.split(' ').reverse() as [string, string | undefined];
  const [numerator, denominator] = fraction.split('/').map(Number) as [number, number];
  return Number(whole ?? 0) * PPQ + (numerator * PPQ) / denominator;
}

function greatestDivisor(a: number, b: number): number {
  return a === 0 ? b : greatestDivisor(b % a, a);
}
