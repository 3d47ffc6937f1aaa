import type { HomeKey } from '../engine/index.ts';

/** Where each letter lies on the line of fifths, seen from C. */
const LETTERS = 'FCGDAEB';

/** The sharps (above 0) or flats (below 0) of a key signature, -7 to 7; null for keys that have none such. */
export function fifthsOf({ tonic, mode }: HomeKey): number | null {
  const letter = LETTERS.indexOf(tonic.charAt(0)) - 1;
  const signs = tonic.split('#').length - tonic.split('b').length;
  const fifths = letter + 7 * signs - (mode === 'minor' ? 3 : 0);
  return Math.abs(fifths) <= 7 ? fifths : null;
}

/** The key a signature stands for. */
export function keyOfFifths(fifths: number, mode: HomeKey['mode']): HomeKey | null {
  if (!Number.isInteger(fifths) || Math.abs(fifths) > 7) return null;
  const at = fifths + 1 + (mode === 'minor' ? 3 : 0);
  const signs = Math.floor(at / 7);
  const letter = LETTERS[((at % 7) + 7) % 7]!;
  const tonic = letter + (signs < 0 ? 'b'.repeat(-signs) : '#'.repeat(signs));
  return { tonic, mode };
}
