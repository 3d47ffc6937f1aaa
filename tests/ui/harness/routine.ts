import { newProject, ok, type Plan, type PlanStep, type Project } from '../../../src/engine/index.ts';
import { drillingOf } from '../../../src/ui/drills/drilling.svelte.ts';
import { plansOf } from '../../../src/ui/plan/plans.svelte.ts';
import { Routine } from '../../../src/ui/plan/routine.svelte.ts';
import type { Kept } from '../../../src/ui/ports.ts';
import type { SessionPorts } from '../../../src/ui/session-ports.ts';
import { planFromData, planToData } from '../../../src/storage/plans.ts';
import { sessionOf } from '../open.ts';

/** A step of a plan. */
export const step = (title: string, text: string, set: Partial<PlanStep> = {}): PlanStep => ({
  title,
  minutes: 1,
  goal: 'Listen.',
  drill: null,
  project: newProject({ title, text }),
  ...set,
});
export const PLAN: Plan = {
  id: 'two',
  title: 'Two steps',
  sentence: '',
  steps: [step('Vamp', 'C7alt'), step('Tune', 'Dm7 | G7')],
};

/** Records kept in memory. */
function records() {
  let kept: Kept[] = [];
  return {
    list: () => Promise.resolve(ok(kept)),
    removed: () => Promise.resolve(ok([])),
    add(data: Kept['data'], chart = '') {
      const one = { id: `k${kept.length}`, chart, at: kept.length, data };
      kept = [...kept, one];
      return Promise.resolve(ok(one));
    },
    put(record: Kept) {
      kept = kept.map((one) => (one.id === record.id ? record : one));
      return Promise.resolve(ok(record));
    },
    remove(id: string) {
      kept = kept.filter((one) => one.id !== id);
      return Promise.resolve(ok(null));
    },
    takeBack: () => Promise.resolve(ok(null)),
  };
}

/** A session with plans and a log that are kept in memory, and a voice that notes what it says. */
export function routineOf(set: Partial<Project> = {}, ports: Partial<SessionPorts> = {}) {
  const { session, player } = sessionOf('C7', set, ports);
  const said: string[] = [];
  const log = records();
  const routine = new Routine(session, {
    book: () => Promise.resolve({ suggested: [PLAN], fromData: planFromData, toData: planToData }),
    plans: records(),
    log,
    open: (project) => session.open(project),
    drills: (asked) => Promise.resolve(drillingOf(asked)),
    speak: (words) => Promise.resolve(void said.push(words)),
  });
  return { session, player, routine, plans: plansOf(session, routine), said, log };
}
