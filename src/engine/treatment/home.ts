import { isDominant, pitchClass, type Changes } from '../harmony/index.ts';

/**
 * The pitch class of the tonic the changes come home to: of all chords that are no dominants, the root
 * that sounds longest, counting double where a dominant falls a fifth into it and once more for the
 * first and the last of them. Of nothing but dominants (a blues) it is the first root. Our choice.
 * @returns null when there is no chord
 */
export function homeTonic(changes: Changes): number | null {
  const weights = new Map<number, number>();
  const chords = changes.spans.filter(({ written }) => written !== null);
  const resting = chords.filter(({ written }) => !isDominant(written!));
  if (resting.length === 0) return chords[0] ? pitchClass(chords[0].written!.root) : null;
  for (const [index, { written, length }] of chords.entries()) {
    if (isDominant(written!)) continue;
    const root = pitchClass(written!.root);
    const before = chords[(index + chords.length - 1) % chords.length]!.written!;
    const falls = isDominant(before) && (pitchClass(before.root) - root + 12) % 12 === 7;
    weights.set(root, (weights.get(root) ?? 0) + length * (falls ? 2 : 1));
  }
  for (const end of [resting[0]!, resting.at(-1)!]) {
    const root = pitchClass(end.written!.root);
    weights.set(root, weights.get(root)! + end.length);
  }
  return [...weights].reduce((best, entry) => (entry[1] > best[1] ? entry : best))[0];
}
