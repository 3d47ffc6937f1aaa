import { LOW_INTERVAL_LIMITS, LOW_INTERVAL_TOLERANCE } from './data.ts';
import type { VoicingStyle } from './types.ts';

/**
 * The rules of how four notes lie. Each takes MIDI keys from the lowest voice up; `guides` and
 * `roots` say which of the voices are guide tones and roots of the chord.
 */
export interface Placing {
  readonly keys: readonly number[];
  readonly guides: readonly boolean[];
  readonly roots: readonly boolean[];
}

/** Neighbours at most a fifth apart, as in the A and B forms of the textbooks ("3 b7 #9 #5" is the widest). */
export const isCompact = ({ keys }: Placing): boolean =>
  keys.every((key, voice) => keys[voice + 1] === undefined || keys[voice + 1]! - key <= 7);

/** A close position whose second voice from the top stands an octave lower. By definition. */
export const isDropTwo = ({ keys: [a, b, c, d] }: Placing): boolean =>
  a! + 12 > c! && a! + 12 < d! && d! - b! < 12;

/** A close position whose third voice from the top stands an octave lower. By definition. */
export const isDropThree = ({ keys: [a, b, c, d] }: Placing): boolean =>
  a! + 12 > b! && a! + 12 < c! && d! - b! < 12;

/** The lowest voice is a guide tone: the A form has the third there, the B form the seventh. */
export const standsOnGuideTone = ({ guides }: Placing): boolean => guides[0]!;

/** The guide tones lie lowest, alone or on the root, a tone above or between them filling the four. */
export const isShell = ({ guides, roots }: Placing): boolean =>
  (guides[0]! && guides[1]! && !roots.includes(true)) ||
  (roots[0]! && guides[1]! && (guides[2]! || guides[3]!));

/**
 * Neighbours a fourth apart (perfect or augmented), except that one of the three intervals may be a
 * third or a fifth. Common practice: the top of a fourth chord is often a major third.
 */
export const isInFourths = ({ keys }: Placing): boolean => {
  const steps = [keys[1]! - keys[0]!, keys[2]! - keys[1]!, keys[3]! - keys[2]!];
  const fourths = steps.filter((step) => step === 5 || step === 6).length;
  return fourths >= 2 && steps.every((step) => step >= 3 && step <= 7);
};

/** How each style lies. */
export const LIES_IN: Readonly<Record<VoicingStyle, (placing: Placing) => boolean>> = {
  rootless: (placing) => isCompact(placing) && standsOnGuideTone(placing),
  'drop-2': isDropTwo,
  'drop-3': isDropThree,
  shell: isShell,
  fourths: isInFourths,
};

/** Two neighbours stand lower than their interval can without turning to mud. */
export const breaksLowIntervalLimit = ({ keys }: Placing): boolean =>
  keys.some((key, voice) => {
    const above = keys[voice + 1];
    if (above === undefined) return false;
    const limit = LOW_INTERVAL_LIMITS[above - key] ?? 0;
    return key < limit - LOW_INTERVAL_TOLERANCE;
  });

/**
 * Two voices a minor ninth apart, the harshest of intervals. Only the root in the lowest voice bears
 * one, as it does under a flat ninth. Common practice.
 */
export const holdsMinorNinth = ({ keys, roots }: Placing): boolean =>
  keys.some((low, i) => keys.some((high, j) => j > i && high - low === 13 && !(i === 0 && roots[i])));

/** A semitone between the two highest voices blurs which of them is the tune. Common practice. */
export const rubsAtTheTop = ({ keys }: Placing): boolean => keys[3]! - keys[2]! === 1;

/** A flat ninth together with its root anywhere but over it in the lowest voice, where it is a colour. */
export const rubsOnTheRoot = ({ keys, roots }: Placing): boolean =>
  roots.some((root, voice) => root && voice > 0 && keys.some((key) => (key - keys[voice]! + 120) % 12 === 1));

/** Three neighbours within a minor third. Our choice, because a cluster hides the guide tones. */
export const clusters = ({ keys }: Placing): boolean =>
  keys.some((key, voice) => keys[voice + 2] !== undefined && keys[voice + 2]! - key <= 3);

/** More than an octave between neighbours leaves a hole; the lowest voice may stand apart. */
export const leavesAHole = ({ keys }: Placing): boolean =>
  keys[2]! - keys[1]! > 9 || keys[3]! - keys[2]! > 9 || keys[1]! - keys[0]! > 12;

/** What no voicing does, in any style. */
export const FAULTS: readonly ((placing: Placing) => boolean)[] = [
  breaksLowIntervalLimit,
  holdsMinorNinth,
  rubsAtTheTop,
  rubsOnTheRoot,
  clusters,
  leavesAHole,
];
