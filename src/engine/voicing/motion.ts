/**
 * How far the voices move from one chord to the next, voice by voice: the lowest to the lowest, and
 * so on. Among all pairings of two chords in register this one is the smallest (computed).
 * @returns semitones, summed over the voices
 * @throws RangeError when the chords have different numbers of notes
 */
export function totalMotion(from: readonly number[], to: readonly number[]): number {
  sameSize(from, to);
  let sum = 0;
  for (let voice = 0; voice < from.length; voice++) sum += Math.abs(from[voice]! - to[voice]!);
  return sum;
}

/**
 * The smallest total motion between two sets of pitch classes over all pairings, each note going the
 * shorter way round the octave. Tymoczko, *The Geometry of Musical Chords*, Science 313, 2006.
 * @returns semitones
 * @throws RangeError when the sets have different sizes
 */
export function smallestMotion(from: readonly number[], to: readonly number[]): number {
  sameSize(from, to);
  const pairFrom = (index: number, left: readonly number[]): number =>
    index === from.length
      ? 0
      : Math.min(
          ...left.map((pc, at) => pcDistance(from[index]!, pc) + pairFrom(index + 1, left.toSpliced(at, 1))),
        );
  return pairFrom(0, to);
}

/** The shorter way round from one pitch class to another, 0 to 6 semitones. */
export function pcDistance(from: number, to: number): number {
  const up = (((to - from) % 12) + 12) % 12;
  return Math.min(up, 12 - up);
}

function sameSize(from: readonly number[], to: readonly number[]): void {
  if (from.length !== to.length) {
    throw new RangeError(`cannot lead ${from.length} voices into ${to.length}`);
  }
}
