import type { Chord } from '../harmony/index.ts';
import { restingTones, rungsOf, type Reach, type Rung } from './rungs.ts';

/** A note of a line over a dominant, and the rule it follows. */
export interface LineNote {
  readonly rung: Rung;
  readonly why: string;
  readonly head: boolean;
}

/** A line over a dominant and the note of the next chord it steps into. */
export interface Line {
  readonly notes: readonly LineNote[];
  readonly goal: Rung;
  readonly goalWhy: string;
}

/** A line with what going about it costs. */
export interface Priced<T extends Line = Line> {
  readonly line: T;
  readonly cost: number;
}

/**
 * What a line costs. Our choice, because tension is released by a short way down, the third is the sound of
 * the next chord, and the middle of the range is where a line is heard best.
 */
export const COST = { turn: 3, wholeTone: 1, rise: 0.5, goal: 1, height: 0.05 };

/** The notes of the next chord a line may step into, best first; all others come after them. */
const GOALS: readonly string[] = ['3', '5', '1'];

/** A step from the last note of a line into a resting note of the next chord: a semitone or a whole tone. */
export interface Step {
  readonly goal: Rung;
  readonly why: string;
  readonly cost: number;
}

/** Every such step from a note. */
export function stepsInto(goals: readonly Rung[], last: Rung): readonly Step[] {
  return goals.flatMap((goal): readonly Step[] => {
    const step = goal.pitch - last.pitch;
    if (step === 0 || Math.abs(step) > 2) return [];
    const rank = GOALS.indexOf(goal.degree!.replace(/[b#]/g, ''));
    const cost =
      (Math.abs(step) === 2 ? COST.wholeTone : 0) +
      (step > 0 ? COST.rise : 0) +
      COST.goal * (rank < 0 ? GOALS.length : rank);
    const size = Math.abs(step) === 1 ? 'a semitone' : 'a whole tone';
    const why = `the ${last.degree} ${step < 0 ? 'falls' : 'rises'} ${size} to the ${goal.degree}`;
    return [{ goal, why, cost }];
  });
}

/** Where lines into a chord may come to rest. */
export const goalsOf = (next: Chord, reach: Reach): readonly Rung[] => rungsOf(restingTones(next), reach);

/** How far from the middle of the reach a line begins. */
export const heightCost = ({ pitch }: Rung, { low, high }: Reach): number =>
  COST.height * Math.abs(pitch - (low + high) / 2);

/** The lines, the cheapest first. */
export const cheapestFirst = <T extends Line>(found: readonly Priced<T>[]): readonly T[] =>
  found.toSorted((one, other) => one.cost - other.cost).map(({ line }) => line);
