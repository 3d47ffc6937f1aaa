import type { PracticeStep, Project } from './project.ts';

/** A step of a plan. */
export interface PlanStep extends PracticeStep {
  /** The chart with everything set for it: loop, ladder, keys, treatments, tempo. Itself it is no step. */
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

/** The chart of a step, told what is to be practised on it: what is opened, linked to and saved. */
export function asStep({ project, title, minutes, goal, drill }: PlanStep): Project {
  return { ...project, step: { title, minutes, goal, drill } };
}

/** A step of a plan, from a chart and what is to be practised on it. */
export function planStep(step: PracticeStep, project: Project): PlanStep {
  return { ...step, project: { ...project, id: '', step: null } };
}
