import {
  asStep,
  type Plan,
  type PlanStep,
  type PracticeStep,
  type Project,
  type Result,
  type Trouble,
} from '../../engine/index.ts';
import type { Drilling } from '../drills/drilling.svelte.ts';
import type { Kept, Log, Records } from '../ports.ts';
import type { Session } from '../session.svelte.ts';
import { Diary } from './diary.svelte.ts';
import { minutes } from './words.ts';

/** Plans that come with the app, and plans as they are kept. */
export interface PlanBook {
  readonly suggested: readonly Plan[];
  readonly fromData: (id: string, data: Kept['data']) => Result<Plan, Trouble>;
  readonly toData: (plan: Plan) => Kept['data'];
}

/** What plans need of the world outside the page. */
export interface RoutinePorts {
  /** Opened when plans are first asked for. */
  readonly book: () => Promise<PlanBook>;
  /** The player's own. */
  readonly plans: Records;
  readonly log: Log;
  /** Lays a ready-made chart open, without making it the player's own. */
  readonly open: (project: Project) => void;
  /** The drills of the page, loaded when a step first asks for one. */
  readonly drills: (session: Session) => Promise<Drilling>;
  /** Says words aloud and resolves when they are said; at once where nothing can speak. */
  readonly speak: (words: string) => Promise<void>;
}

/** Where in a plan the player is. */
export interface Run {
  readonly plan: Plan;
  /** Counted from 0. */
  readonly index: number;
  /** True where it is no plan, but the step that the open chart is. */
  readonly alone: boolean;
  /** The chart of the step, by its id. */
  readonly chart: string;
}

/** How often the time that is left is counted, ms. */
const TICK = 1000;

/** Runs plans, and writes down what was practised. */
export class Routine {
  run: Run | null = $state.raw(null);
  /** Seconds left of the step; they run while the band plays. */
  left = $state(0);
  readonly diary: Diary;
  /** The step that runs; null once another chart is open. */
  readonly step: PlanStep | null = $derived.by(() => {
    const { run } = this;
    const { project } = this.#session;
    if (run === null || run.chart !== project.id) return null;
    if (run.alone && project.step !== null) return { ...project.step, project };
    return run.plan.steps[run.index] ?? null;
  });
  readonly ports: RoutinePorts;
  readonly #session: Session;
  #timer: ReturnType<typeof setInterval> | null = null;
  #counted = 0;
  /** True while the step's time is over and the band plays its round out. */
  #over = false;
  /** True between two steps, while the cue is spoken. */
  #between = false;
  /** The drills of the page, once a step has asked for one. */
  #drilling: Drilling | null = null;
  /** The chart whose step is not spoken of any more, by its id. */
  #away: string | null = $state(null);

  constructor(session: Session, ports: RoutinePorts) {
    this.#session = session;
    this.ports = ports;
    this.diary = new Diary(session, ports.log, () => this.step?.title ?? null);
  }

  /** The step that runs, else the one that the open chart is; null where there is none to speak of. */
  get shown(): PracticeStep | null {
    const { id, step } = this.#session.project;
    return this.step ?? (id === this.#away ? null : step);
  }

  /** Speaks no more of the step that the open chart is, or does so again. It stays one. */
  putAway(away = true): void {
    this.#away = away ? this.#session.project.id : null;
  }

  /** Begins a plan; must come from a user's gesture. */
  async begin(plan: Plan): Promise<void> {
    await this.#enter(plan, 0);
  }

  /** Begins the step that the open chart is; must come from a user's gesture. */
  async start(): Promise<void> {
    const { project } = this.#session;
    if (project.step === null) return;
    const steps = [{ ...project.step, project }];
    await this.#enter({ id: '', title: project.step.title, sentence: '', steps }, 0, true);
  }

  /** To another step, or past the last one. */
  async go(by: 1 | -1): Promise<void> {
    if (this.run === null) return;
    const { plan, index, alone } = this.run;
    const next = Math.max(0, index + by);
    if (next < plan.steps.length) await this.#enter(plan, next, alone);
    else this.#finish(plan);
  }

  /** Ends the plan; the band plays on. */
  end(): void {
    if (this.run?.alone === false) this.putAway();
    this.run = null;
    this.#over = false;
    this.#drilling?.leave();
    if (this.#timer !== null) clearInterval(this.#timer);
    this.#timer = null;
  }

  async #enter(plan: Plan, index: number, alone = false): Promise<void> {
    const step = plan.steps[index]!;
    const session = this.#session;
    this.#timer ??= setInterval(() => this.#count(), TICK);
    this.#between = true;
    this.#over = false;
    this.#away = null;
    this.#drilling?.leave();
    session.drill = null;
    if (alone) session.playing.stop();
    else this.ports.open(asStep(step));
    const run = { plan, index, alone, chart: session.project.id };
    this.run = run;
    this.left = Math.round(step.minutes * 60);
    session.say(`${step.title}. ${step.goal}`);
    if (session.preferences.values.spoken) {
      await this.ports.speak(`${step.title}. ${minutes(step.minutes)}.`);
    }
    if (step.drill !== null) await this.#lay(step.drill);
    // Another step, or the end, may have been chosen meanwhile.
    if (this.run !== run) return;
    this.#between = false;
    this.#counted = performance.now();
    await session.play();
  }

  /** Lays a drill of the open chart over it. */
  async #lay(drill: string): Promise<void> {
    try {
      this.#drilling = await this.ports.drills(this.#session);
      this.#drilling.ask(drill);
    } catch {
      this.#session.say('The drill of this step could not be loaded. The band plays without it.');
    }
  }

  #finish({ title }: Plan) {
    this.#session.playing.stop();
    this.end();
    this.#session.say(`${title} is done. Rest your hands.`);
    if (this.#session.preferences.values.spoken) void this.ports.speak('That was the plan. Rest your hands.');
  }

  #count() {
    const now = performance.now();
    const gone = (now - this.#counted) / 1000;
    this.#counted = now;
    const { playing } = this.#session;
    if (this.run === null || this.#between) return;
    if (this.step === null) return this.end();
    if (playing.on) this.left = Math.max(0, this.left - gone);
    if (this.left > 0) return;
    if (playing.on && !this.#over) {
      this.#over = true;
      playing.finish();
    } else if (!playing.on && this.#over) void this.go(1);
  }
}
