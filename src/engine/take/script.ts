import { readText, type PlayPlan } from '../arrange.ts';
import { startPerformance, type Event, type Performance } from '../performance/index.ts';
import { loopOf, newProject, stretchOf } from '../project.ts';
import { fail, ok, type Result } from '../units/index.ts';
import type { TakeEvent, TakePlan, TakeScript } from './types.ts';

/** What a performance was made of, as values that can be kept: charts as typed and what happened when. */
export function scriptOf(performance: Performance): TakeScript {
  const { plan, countIn, from } = performance.beginning;
  const plans: PlayPlan[] = [plan];
  const events = performance.events.map((event): TakeEvent => {
    if (event.type !== 'revise') return event;
    const before = plans.at(-1)!;
    const bars = before.written.bars.reduce((most, { written }) => Math.max(most, written + 1), 0);
    plans.push(event.plan);
    const follow = Array.from({ length: bars }, (_, bar) => event.follow(bar));
    return { type: 'revise', at: event.at, plan: plans.length - 1, follow };
  });
  return { countIn, from, plans: plans.map(keptPlan), events };
}

/** The band of a script, playing again; a reason where the script cannot be played. */
export function performanceOf(script: TakeScript): Result<Performance, string> {
  const plans = script.plans.map(playPlan);
  const [first] = plans;
  if (first === undefined) return fail('no chart');
  const events: Event[] = [];
  for (const event of script.events) {
    if (event.type !== 'revise') {
      events.push(event);
      continue;
    }
    const plan = plans[event.plan];
    if (plan === undefined) return fail(`no chart ${event.plan}`);
    events.push({ type: 'revise', at: event.at, plan, follow: (bar) => event.follow[bar] ?? null });
  }
  try {
    return ok(startPerformance(first, script).through(events));
  } catch (reason) {
    return fail(reason instanceof Error ? reason.message : String(reason));
  }
}

function keptPlan(plan: PlayPlan): TakePlan {
  const { text = '', settings, layers, hits = [], loop, practice, standing = null, written } = plan;
  const project = newProject({
    text,
    settings,
    layers,
    hits,
    loop: loop === null ? null : loopOf(loop, written),
  });
  return { project: practice === undefined ? project : { ...project, practice }, standing };
}

function playPlan({ project, standing }: TakePlan): PlayPlan {
  const { written } = readText(project.text);
  const { settings, layers, hits, loop, practice } = project;
  return {
    text: project.text,
    written,
    settings,
    layers,
    hits,
    practice,
    loop: loop === null ? null : stretchOf(loop, written),
    ...(standing && { standing }),
  };
}
