import { totalMotion } from './motion.ts';
import type { Voicing } from './types.ts';

/**
 * What a path of voicings costs: the rules of leading as named terms, and one record of what each
 * weighs. The search knows none of them by name.
 */
export interface Weights {
  /** Each semitone a voice moves. The other weights are in this unit. */
  readonly motion: number;
  /** What is left of `motion`, `leap` and `parallel` while the chord stays: inside it a hand moves freely. */
  readonly inside: number;
  /** Each semitone by which a voice moves more than {@link LEAP}. */
  readonly leap: number;
  /** Each semitone by which the top voice moves more than a whole tone. */
  readonly topSkip: number;
  /** The top voice strikes its note again. */
  readonly topStay: number;
  /** It does so a second time running. */
  readonly topLongStay: number;
  /** All four voices leap the same way. */
  readonly parallel: number;
  /** The chord stays and so do its four degrees, in whatever order. */
  readonly sameDegrees: number;
  /** And they lie the same way. */
  readonly sameNotes: number;
  /** The chord stays and its four degrees are those of the attack before last. */
  readonly toAndFro: number;
  /** Each semitone by which the middle of the chord lies further than {@link REST} from its centre. */
  readonly register: number;
  /** Each unit of reluctance of the tones chosen. */
  readonly colour: number;
  /** A chord with more altered tones than voices lasts, and one of them is not heard in time. */
  readonly unheard: number;
}

/** All weights are our choice, by ear of the notes they lead to; the unit is one semitone of one voice. */
export const WEIGHTS: Weights = Object.freeze({
  motion: 1,
  inside: 0.3,
  leap: 1,
  topSkip: 0.75,
  topStay: 0.5,
  topLongStay: 4,
  parallel: 4,
  sameDegrees: 4,
  sameNotes: 3,
  toAndFro: 1.5,
  register: 1,
  colour: 1,
  unheard: 1000,
});

/** Motion alone, for comparison with published figures. */
export const PURE_MOTION: Weights = Object.freeze({
  motion: 1,
  inside: 1,
  leap: 0,
  topSkip: 0,
  topStay: 0,
  topLongStay: 0,
  parallel: 0,
  sameDegrees: 0,
  sameNotes: 0,
  toAndFro: 0,
  register: 0,
  colour: 0,
  unheard: 0,
});

/** A voice may move a major third before it counts as a leap. Our choice. */
export const LEAP = 4;
/** A whole tone: the widest step of a tune. */
export const STEP = 2;
/** Semitones to either side of the centre that cost nothing. Our choice. */
export const REST = 2;

/** Semitones by which voices leap beyond a major third, summed. */
export function leapsTooFar(from: readonly number[], to: readonly number[]): number {
  let sum = 0;
  for (let voice = 0; voice < from.length; voice++) {
    sum += Math.max(0, Math.abs(to[voice]! - from[voice]!) - LEAP);
  }
  return sum;
}

/** Semitones by which the top voice moves further than a step. */
export const skipsAtTheTop = (from: readonly number[], to: readonly number[]): number =>
  Math.max(0, Math.abs(to[3]! - from[3]!) - STEP);

/** The top voice strikes the same key again. */
export const staysAtTheTop = (from: readonly number[], to: readonly number[]): boolean => from[3] === to[3];

/** All voices move the same way, each by more than a step. */
export function leapsInParallel(from: readonly number[], to: readonly number[]): boolean {
  let least = Infinity;
  let most = -Infinity;
  for (let voice = 0; voice < from.length; voice++) {
    least = Math.min(least, to[voice]! - from[voice]!);
    most = Math.max(most, to[voice]! - from[voice]!);
  }
  return least > STEP || most < -STEP;
}

/** Semitones by which the middle of a chord lies further than {@link REST} from `centre`. */
export const strays = (keys: readonly number[], centre: number): number =>
  Math.max(0, Math.abs((keys[0]! + keys[1]! + keys[2]! + keys[3]!) / 4 - centre) - REST);

/**
 * While one chord lasts the centre lies up to so many semitones above and below its rest by turns of two
 * bars. Our choice, so that the hand travels over the keys on a vamp and does not wait where it is nearest.
 */
export const WANDER = 7;

/**
 * What the way from one voicing to the next costs, before anything is remembered.
 * @param stays whether both belong to the same chord
 */
export function stepCost(from: Voicing, to: Voicing, stays: boolean, weights: Weights): number {
  const [a, b] = [from.pitches, to.pitches];
  const free = stays ? weights.inside : 1;
  return (
    free * weights.motion * totalMotion(a, b) +
    free * weights.leap * leapsTooFar(a, b) +
    free * (leapsInParallel(a, b) ? weights.parallel : 0) +
    weights.topSkip * skipsAtTheTop(a, b)
  );
}

/** What striking the same again costs: the top note, the four degrees of one chord, the four notes. */
export function repeatCost(from: Voicing, to: Voicing, sameDegrees: boolean, weights: Weights): number {
  const top = staysAtTheTop(from.pitches, to.pitches) ? weights.topStay : 0;
  if (!sameDegrees) return top;
  return top + weights.sameDegrees + (totalMotion(from.pitches, to.pitches) === 0 ? weights.sameNotes : 0);
}
