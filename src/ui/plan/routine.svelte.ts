import type { Plan, PlanStep, Project, Result, Trouble } from '../../engine/index.ts';
import type { Kept, Log, Records } from '../ports.ts';
import type { Session } from '../session.svelte.ts';
import { sentence } from '../library/words.ts';
import { Diary } from './diary.svelte.ts';

/** What plans need of the world outside the page. */
export interface RoutinePorts {
  /** The plans that come with the app. */
  readonly suggested: readonly Plan[];
  /** The player's own. */
  readonly plans: Records;
  readonly log: Log;
  readonly fromData: (id: string, data: Kept['data']) => Result<Plan, Trouble>;
  readonly toData: (plan: Plan) => Kept['data'];
  /** Lays a ready-made chart open, without making it the player's own. */
  readonly open: (project: Project) => void;
  /** Says words aloud and resolves when they are said; at once where nothing can speak. */
  readonly speak: (words: string) => Promise<void>;
}

/** Where in a plan the player is. */
export interface Run {
  readonly plan: Plan;
  /** Counted from 0. */
  readonly index: number;
}

/** How often the time that is left is counted, ms. */
const TICK = 1000;

/** Runs plans, keeps the player's own, and writes down what was practised. */
export class Routine {
  run: Run | null = $state.raw(null);
  /** Seconds left of the step; they run while the band plays. */
  left = $state(0);
  own: readonly Plan[] = $state.raw([]);
  readonly suggested: readonly Plan[];
  readonly diary: Diary;
  readonly #session: Session;
  readonly #ports: RoutinePorts;
  #kept: readonly Kept[] = [];
  #timer: ReturnType<typeof setInterval> | null = null;
  #counted = 0;
  /** True while the step's time is over and the band plays its round out. */
  #over = false;
  /** True between two steps, while the cue is spoken. */
  #between = false;

  constructor(session: Session, ports: RoutinePorts) {
    this.#session = session;
    this.#ports = ports;
    this.suggested = ports.suggested;
    this.diary = new Diary(session, ports.log, () => this.step?.title ?? null);
  }

  get step(): PlanStep | null {
    return this.run === null ? null : (this.run.plan.steps[this.run.index] ?? null);
  }

  // --- running ------------------------------------------------------------------------------------

  /** Begins a plan; must come from a user's gesture. */
  async begin(plan: Plan): Promise<void> {
    this.#timer ??= setInterval(() => this.#count(), TICK);
    await this.#enter(plan, 0);
  }

  /** To another step, or past the last one. */
  async go(by: 1 | -1): Promise<void> {
    if (this.run === null) return;
    const { plan, index } = this.run;
    const next = Math.max(0, index + by);
    if (next < plan.steps.length) await this.#enter(plan, next);
    else this.#finish(plan);
  }

  /** Ends the plan; the band plays on. */
  end(): void {
    this.run = null;
    this.#over = false;
    if (this.#timer !== null) clearInterval(this.#timer);
    this.#timer = null;
  }

  async #enter(plan: Plan, index: number): Promise<void> {
    const step = plan.steps[index]!;
    const session = this.#session;
    this.#between = true;
    this.#over = false;
    this.#ports.open(step.project);
    this.run = { plan, index };
    this.left = Math.round(step.minutes * 60);
    session.say(`${step.title}. ${step.goal}`);
    if (session.preferences.values.spoken) {
      await this.#ports.speak(`${step.title}. ${minutes(step.minutes)}.`);
    }
    this.#between = false;
    // Another step, or the end, may have been chosen while this one was spoken.
    if (this.#changed(plan, index)) return;
    this.#counted = performance.now();
    await session.play();
  }

  #changed(plan: Plan, index: number): boolean {
    return this.run?.plan !== plan || this.run.index !== index;
  }

  #finish(plan: Plan) {
    this.end();
    this.#session.playing.stop();
    this.#session.say(`${plan.title} is done. Rest your hands.`);
    if (this.#session.preferences.values.spoken)
      void this.#ports.speak('That was the plan. Rest your hands.');
  }

  #count() {
    const now = performance.now();
    const gone = (now - this.#counted) / 1000;
    this.#counted = now;
    const { playing } = this.#session;
    if (this.run === null || this.#between) return;
    if (playing.on) this.left = Math.max(0, this.left - gone);
    if (this.left > 0) return;
    if (playing.on && !this.#over) {
      this.#over = true;
      playing.finish();
    } else if (!playing.on && this.#over) void this.go(1);
  }

  // --- the player's own plans ---------------------------------------------------------------------

  async refresh(): Promise<void> {
    const kept = await this.#ports.plans.list();
    if (!kept.ok) return;
    this.#kept = kept.value;
    this.own = kept.value
      .flatMap(({ id, data }) => {
        const plan = this.#ports.fromData(id, data);
        return plan.ok ? [plan.value] : [];
      })
      .toReversed();
  }

  /** A plan whose first step is the chart as it stands. */
  async create(title: string, step: PlanStep): Promise<void> {
    const plan: Plan = { id: '', title, sentence: '', steps: [step] };
    const kept = await this.#ports.plans.add(this.#ports.toData(plan));
    if (!kept.ok) this.#session.say(sentence(kept.error));
    await this.refresh();
  }

  /** Keeps a plan of the player's own as it now is; without steps it is removed. */
  async change(plan: Plan): Promise<void> {
    const known = this.#kept.find(({ id }) => id === plan.id);
    if (known === undefined) return;
    if (plan.steps.length === 0) return this.remove(plan);
    const kept = await this.#ports.plans.put({ ...known, data: this.#ports.toData(plan) });
    if (!kept.ok) this.#session.say(sentence(kept.error));
    await this.refresh();
  }

  async remove({ id, title }: Plan): Promise<void> {
    const removed = await this.#ports.plans.remove(id);
    await this.refresh();
    if (!removed.ok) return this.#session.say(sentence(removed.error));
    this.#session.say(`The plan ${title} is removed.`, {
      label: 'Take back',
      run: () => void this.#ports.plans.takeBack(id).then(() => this.refresh()),
    });
  }

  /** The chart as it stands, as a step. */
  stepOf(length: number, goal: string): PlanStep {
    const { project } = this.#session;
    return { title: project.title || 'Untitled', minutes: length, goal, project: { ...project, id: '' } };
  }
}

/** "5 minutes" */
export const minutes = (count: number): string => `${count} minute${count === 1 ? '' : 's'}`;
