import { fail, ok, planStep, type Plan, type PlanStep, type Result, type Trouble } from '../engine/index.ts';
import { isObject, type JsonObject } from './json.ts';
import { readPresets } from './presets.ts';
import { fromFile } from './read.ts';
import { LONGEST_STEP, SHORTEST_STEP } from './schema.ts';
import { toFile } from './write.ts';

const FILES = import.meta.glob<unknown>('../../presets/plans/*.json', { import: 'default', eager: true });

const BROKEN: Trouble = {
  message: 'A plan could not be read: it has no steps.',
  remedy: 'Make it anew from the charts you want to practise.',
};

/**
 * A plan from plain data, e.g. from the library or from `presets/plans`. A step's `chart` is a chart file,
 * or the name of a chart of the app; what `set` holds is laid over it, group by group. `drill` names one of
 * that chart's drills.
 */
export function planFromData(id: string, data: Readonly<Record<string, unknown>>): Result<Plan, Trouble> {
  const steps = Array.isArray(data['steps']) ? data['steps'].flatMap(stepFrom) : [];
  if (steps.length === 0) return fail(BROKEN);
  return ok({ id, title: text(data['title']) || 'Untitled', sentence: text(data['sentence']), steps });
}

/** A plan as plain data; `planFromData` gives the same plan again. */
export function planToData({ title, sentence, steps }: Plan): JsonObject {
  return {
    title,
    sentence,
    steps: steps.map((step) => ({
      title: step.title,
      minutes: step.minutes,
      goal: step.goal,
      ...(step.drill !== null && { drill: step.drill }),
      chart: toFile(step.project),
    })),
  };
}

/** The plans that come with the app, in the order of the numbers in their files' names. */
export function readPlans(): readonly Plan[] {
  return Object.keys(FILES)
    .sort()
    .map((path) => {
      const id = /\d+-(.+)\.json$/.exec(path)?.[1] ?? path;
      const data = FILES[path];
      const plan = isObject(data) ? planFromData(id, data) : fail(BROKEN);
      if (!plan.ok) throw new RangeError(`${path}: ${plan.error.message}`);
      return plan.value;
    });
}

function stepFrom(raw: unknown): readonly PlanStep[] {
  if (!isObject(raw)) return [];
  const chart = chartOf(raw['chart']);
  const set = raw['set'];
  const opened = chart === null ? null : fromFile(isObject(set) ? laidOver(chart, set) : chart);
  if (opened?.ok !== true) return [];
  const { project } = opened.value;
  const minutes = typeof raw['minutes'] === 'number' && raw['minutes'] > 0 ? raw['minutes'] : 5;
  const step = {
    title: text(raw['title']) || project.title || 'Untitled',
    minutes: Math.min(LONGEST_STEP, Math.max(SHORTEST_STEP, minutes)),
    goal: text(raw['goal']),
    drill: project.drills.find(({ id }) => id === raw['drill'])?.id ?? null,
  };
  return [planStep(step, project)];
}

function chartOf(raw: unknown): JsonObject | null {
  if (isObject(raw)) return raw;
  const preset = readPresets().find(({ id }) => id === raw);
  return preset === undefined ? null : toFile(preset.project);
}

function laidOver(chart: JsonObject, set: JsonObject): JsonObject {
  const merged = Object.entries(set).map(([name, value]) => {
    const known = chart[name];
    return [name, isObject(value) && isObject(known) ? { ...known, ...value } : value];
  });
  return { ...chart, ...(Object.fromEntries(merged) as JsonObject) };
}

const text = (raw: unknown): string => (typeof raw === 'string' ? raw : '');
