import { planStep, type Plan, type PlanStep, type PracticeStep } from '../../engine/index.ts';
import { sentence } from '../library/words.ts';
import type { Kept } from '../ports.ts';
import type { Session } from '../session.svelte.ts';
import type { Routine } from './routine.svelte.ts';

/** The plans there are: those of the app and the player's own, and the open chart as a step of one. */
export class Plans {
  /** Latest first. */
  own: readonly Plan[] = $state.raw([]);
  suggested: readonly Plan[] = $state.raw([]);
  readonly #session: Session;
  readonly #routine: Routine;
  #kept: readonly Kept[] = [];

  constructor(session: Session, routine: Routine) {
    this.#session = session;
    this.#routine = routine;
  }

  async refresh(): Promise<void> {
    const { fromData, suggested } = await this.#routine.ports.book();
    this.suggested = suggested;
    const kept = await this.#routine.ports.plans.list();
    if (!kept.ok) return;
    this.#kept = kept.value;
    this.own = kept.value
      .flatMap(({ id, data }) => {
        const plan = fromData(id, data);
        return plan.ok ? [plan.value] : [];
      })
      .toReversed();
  }

  /** A plan whose first step is the chart as it stands. */
  async create(title: string, step: PlanStep): Promise<void> {
    const plan: Plan = { id: '', title, sentence: '', steps: [step] };
    const { toData } = await this.#routine.ports.book();
    const kept = await this.#routine.ports.plans.add(toData(plan));
    if (!kept.ok) this.#session.say(sentence(kept.error));
    await this.refresh();
  }

  /** Keeps a plan of the player's own as it now is; without steps it is removed. */
  async change(plan: Plan): Promise<void> {
    const known = this.#kept.find(({ id }) => id === plan.id);
    if (known === undefined) return;
    if (plan.steps.length === 0) return this.remove(plan);
    const { toData } = await this.#routine.ports.book();
    const kept = await this.#routine.ports.plans.put({ ...known, data: toData(plan) });
    if (!kept.ok) this.#session.say(sentence(kept.error));
    await this.refresh();
  }

  async remove({ id, title }: Plan): Promise<void> {
    const removed = await this.#routine.ports.plans.remove(id);
    await this.refresh();
    if (!removed.ok) return this.#session.say(sentence(removed.error));
    this.#session.say(`The plan ${title} is removed.`, {
      label: 'Take back',
      run: () => void this.#routine.ports.plans.takeBack(id).then(() => this.refresh()),
    });
  }

  /** The chart as it stands, as a step; where it is one already, that one unless something else is said. */
  stepOf(set: Partial<PracticeStep> = {}): PlanStep {
    const { project } = this.#session;
    const first = { title: project.title || 'Untitled', minutes: 5, goal: '', drill: null };
    return planStep({ ...first, ...project.step, ...set }, project);
  }

  /** Makes the open chart a step, changes the one it is, or makes it a chart by itself (null). */
  set(change: Partial<PracticeStep> | null): void {
    const { title, minutes: length, goal, drill } = this.stepOf(change ?? {});
    const step = change === null ? null : { title, minutes: length, goal, drill };
    this.#routine.putAway(false);
    this.#session.change({ step }, step === null ? 'Taking the step off' : 'Step');
  }
}

const known = new WeakMap<Routine, Plans>();

/** The plans of a routine: one for as long as it lasts, whether their sheet is open or not. */
export function plansOf(session: Session, routine: Routine): Plans {
  let plans = known.get(routine);
  if (plans === undefined) known.set(routine, (plans = new Plans(session, routine)));
  return plans;
}
