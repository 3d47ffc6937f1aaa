import { readText, type PlayPlan } from '../arrange.ts';
import type { drillAgain } from '../drill-plan.ts';
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

/** Lays a drill over a chart again, as {@link drillAgain} does. */
export type LayDrill = typeof drillAgain;

/**
 * The band of a script, playing again; a reason where the script cannot be played.
 * @param lay for the drills in it; where it is left out, the band plays without them
 */
export function performanceOf(script: TakeScript, lay: LayDrill | null = null): Result<Performance, string> {
  const plans = script.plans.map((plan) => playPlan(plan, lay));
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
  const { text = '', settings, layers, hits = [], loop, practice, standing = null, written, lead } = plan;
  const usual = newProject();
  const played = { settings, hits, practice: practice ?? usual.practice };
  if (lead?.from === undefined) {
    const project = { ...usual, ...played, text, layers, loop: loop === null ? null : loopOf(loop, written) };
    return { project, drill: null, standing };
  }
  const { drill, chart, neck } = lead.from;
  const { key, scales } = chart;
  const drills = [{ id: 'd1', place: drill.place, settings: drill.settings, printed: true }];
  const over = { text: chart.text, layers: chart.layers, loop: chart.loop, key, scales, drills };
  return { project: { ...usual, ...played, ...over }, drill: { neck, alone: lead.alone }, standing };
}

function playPlan({ project, drill, standing }: TakePlan, lay: LayDrill | null): PlayPlan {
  const { written } = readText(project.text);
  const { settings, layers, hits, loop, practice, drills } = project;
  const [heard] = drills;
  return {
    text: project.text,
    written,
    settings,
    layers,
    hits,
    practice,
    loop: loop === null ? null : stretchOf(loop, written),
    ...(standing && { standing }),
    ...(drill && heard && lay?.(heard, project, drill)),
  };
}
