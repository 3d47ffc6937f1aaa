import { degreeSemitones, pitchClass, type Chord, type Degree } from '../harmony/index.ts';
import { guidePair } from './selections.ts';
import type { Placing } from './spacing.ts';

/** Four degrees laid out in register, lowest voice first. */
export interface Laid extends Placing {
  readonly degrees: readonly Degree[];
}

/**
 * Every way to lay degrees out between two keys, from the lowest up.
 * @param width semitones from the lowest voice to the highest at most
 */
export function placings(
  chord: Chord,
  degrees: readonly Degree[],
  low: number,
  high: number,
  width: number,
): readonly Laid[] {
  const root = pitchClass(chord.root);
  const guides = guidePair(chord);
  const isGuide = degrees.map((degree) => guides.includes(degree));
  const isRoot = degrees.map((degree) => degree === '1');
  const keysOf = degrees.map((degree) => keysBetween(low, high, (root + degreeSemitones(degree)) % 12));
  const keys = new Array<number>(degrees.length);
  const found: Laid[] = [];

  /** Gives the degrees from `at` on a key each, where those before lie between `least` and `most`. */
  const place = (at: number, least: number, most: number): void => {
    if (at === degrees.length) {
      const order = [...keys.keys()].sort((a, b) => keys[a]! - keys[b]!);
      found.push({
        keys: order.map((voice) => keys[voice]!),
        degrees: order.map((voice) => degrees[voice]!),
        guides: order.map((voice) => isGuide[voice]!),
        roots: order.map((voice) => isRoot[voice]!),
      });
      return;
    }
    // A degree that stands twice takes its keys in ascending order, so that no layout comes twice.
    const twin = degrees.lastIndexOf(degrees[at]!, at - 1);
    for (const key of keysOf[at]!) {
      if (at > 0 && twin >= 0 && key <= keys[twin]!) continue;
      const [lowest, highest] = [Math.min(least, key), Math.max(most, key)];
      if (highest - lowest > width) continue;
      keys[at] = key;
      place(at + 1, lowest, highest);
    }
  };
  place(0, Infinity, -Infinity);
  return found.sort((a, b) => compare(a.keys, b.keys));
}

/** The keys of a pitch class within a range. */
function keysBetween(low: number, high: number, pc: number): readonly number[] {
  const first = low + ((((pc - low) % 12) + 12) % 12);
  return Array.from({ length: Math.max(0, Math.floor((high - first) / 12) + 1) }, (_, i) => first + 12 * i);
}

function compare(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((key, voice) => key !== b[voice]);
  return at < 0 ? 0 : a[at]! - b[at]!;
}
