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
  const guides = guidePair(chord);
  const root = pitchClass(chord.root);
  const classes = degrees.map((degree) => (root + degreeSemitones(degree)) % 12);
  const found: Laid[] = [];
  const seen = new Set<string>();

  /** Adds the voices from `voice` on, one at each of the keys left that its degree may take. */
  const place = (keys: readonly number[], voices: readonly number[]): void => {
    if (voices.length === degrees.length) {
      const name = keys.join(' ');
      if (!seen.has(name)) found.push(laid(keys, voices));
      seen.add(name);
      return;
    }
    const top = keys.length === 0 ? high : Math.min(high, keys[0]! + width);
    for (let key = keys.length === 0 ? low : keys[keys.length - 1]! + 1; key <= top; key++) {
      classes.forEach((pc, voice) => {
        if (key % 12 === pc && !voices.includes(voice)) place([...keys, key], [...voices, voice]);
      });
    }
  };
  const laid = (keys: readonly number[], voices: readonly number[]): Laid => {
    const named = voices.map((voice) => degrees[voice]!);
    return {
      keys,
      degrees: named,
      guides: named.map((degree) => guides.includes(degree)),
      roots: named.map((degree) => degree === '1'),
    };
  };
  place([], []);
  return found;
}
