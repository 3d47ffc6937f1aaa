import { degreeSemitones, pitchClass, type Chord } from '../harmony/index.ts';
import type { Voicing } from '../voicing/index.ts';

/**
 * Whether a sounding voicing can stand for a chord: the same root, and every degree one that the chord
 * has, or an unaltered tension over a chord that says nothing about it.
 */
export function fits(voicing: Voicing, chord: Chord): boolean {
  const root = pitchClass(chord.root);
  const asked = new Map<number, number>();
  for (const degree of chord.degrees) asked.set(degreeSemitones(degree) % 12, numberOf(degree));
  const spoken = new Set(asked.values());
  return voicing.pitches.every((pitch, index) => {
    const degree = voicing.degrees[index]!;
    const above = (((pitch - root) % 12) + 12) % 12;
    if (above !== degreeSemitones(degree) % 12) return false;
    return asked.has(above) || (!/[b#]/.test(degree) && !spoken.has(numberOf(degree)));
  });
}

const numberOf = (degree: string): number => Number(degree.replace(/[b#]/g, ''));
