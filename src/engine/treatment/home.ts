import { homeKey, pitchClass, type Changes } from '../harmony/index.ts';

const known = new WeakMap<Changes, number | null>();

/**
 * The pitch class of the tonic that changes come home to, worked out once for each changes.
 * @returns null when there is no chord
 */
export function homeTonic(changes: Changes): number | null {
  let tonic = known.get(changes);
  if (tonic === undefined) {
    const sounds = changes.spans.some(({ written }) => written !== null);
    known.set(changes, (tonic = sounds ? pitchClass(homeKey(changes).tonic) : null));
  }
  return tonic;
}
