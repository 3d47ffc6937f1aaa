import type { KeptDrill, PracticeStep, Project } from '../engine/index.ts';
import { readObject } from './fields.ts';
import type { Notices } from './notices.ts';
import { StepFields, type ProjectFile } from './schema.ts';

/** The step a chart is, as the chart file holds it; nothing where it is none. */
export function stepToFile({ step, drills }: Pick<Project, 'step' | 'drills'>): Pick<ProjectFile, 'step'> {
  if (step === null) return {};
  const { title, minutes, goal, drill } = step;
  return {
    step: {
      title,
      minutes,
      ...(goal !== '' && { goal }),
      ...(drill !== null && hasDrill(drills, drill) && { drill }),
    },
  };
}

/** @param drills those of the chart, of which the step may name one */
export function readStep(raw: unknown, drills: readonly KeptDrill[], notices: Notices): PracticeStep | null {
  if (raw === undefined) return null;
  const { title, minutes, goal = '', drill } = readObject(raw, StepFields, 'step', notices);
  if (title === undefined || minutes === undefined) {
    notices.add('step', 'needs a title and minutes; the chart is here without its step');
    return null;
  }
  if (drill !== undefined && !hasDrill(drills, drill)) {
    notices.refuse('step, drill', drill, 'the name of a drill of this chart');
    return { title, minutes, goal, drill: null };
  }
  return { title, minutes, goal, drill: drill ?? null };
}

const hasDrill = (drills: readonly KeptDrill[], wanted: string) => drills.some(({ id }) => id === wanted);
