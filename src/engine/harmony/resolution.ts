import { isDominant } from './chord.ts';
import { mod, pitchClass } from './names.ts';
import type { Chord } from './types.ts';

/** How a dominant's root moves on. */
export type Resolution = 'falling-fifth' | 'falling-semitone' | 'other';

/**
 * Where a dominant goes: its root falls a fifth, falls a semitone, or moves in some other way (staying
 * is one of them).
 * @returns null when `from` is no dominant or nothing follows
 */
export function resolution(from: Chord, to: Chord | null): Resolution | null {
  if (!to || !isDominant(from)) return null;
  const fall = mod(pitchClass(from.root) - pitchClass(to.root), 12);
  return fall === 7 ? 'falling-fifth' : fall === 1 ? 'falling-semitone' : 'other';
}
