import type { Project } from './project.ts';

/** One thing to practise, for a while. */
export interface PlanStep {
  readonly title: string;
  /** How long it is practised, more than 0. */
  readonly minutes: number;
  /** What to listen for, in one sentence. */
  readonly goal: string;
  /** The chart with everything set for it: loop, ladder, keys, treatments, tempo. */
  readonly project: Project;
}

/** A practice session: steps in their order. */
export interface Plan {
  /** Its name among the plans of the device or of the app. */
  readonly id: string;
  readonly title: string;
  /** What it is for, in one sentence. */
  readonly sentence: string;
  readonly steps: readonly PlanStep[];
}
