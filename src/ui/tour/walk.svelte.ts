import { untrack } from 'svelte';
import { dominantsOf, type Changes } from '../../engine/index.ts';
import type { NeckState } from '../neck/state.svelte.ts';
import type { PanelName } from '../panels/panels.ts';
import type { Preset } from '../ports.ts';
import type { Session } from '../session.svelte.ts';
import { STEPS, type Doing, type Seen, type Step } from './steps.ts';

/** True where a dominant is written that is not altered already. */
const hasPlainDominant = (changes: Changes): boolean =>
  dominantsOf(changes).some(({ chord }) => !chord.text.includes('alt'));

const NOTHING: Seen = {
  heard: false,
  altered: 0,
  loop: null,
  neck: 'away',
  tempo: 0,
  ladder: false,
  sheet: null,
};

/** The way through the steps: each is over once it has been done, whichever way. */
export class Walk {
  /** The index of the step; `STEPS.length` once all are done. */
  at = $state(0);
  /** What was done last, in words. */
  done: string | null = $state(null);

  readonly #session: Session;
  readonly #neck: Pick<NeckState, 'shown' | 'values'>;
  readonly #sheet: () => PanelName | null;
  #before: Seen = $state.raw(NOTHING);

  constructor(session: Session, neck: Pick<NeckState, 'shown' | 'values'>, sheet: () => PanelName | null) {
    this.#session = session;
    this.#neck = neck;
    this.#sheet = sheet;
    this.#before = untrack(() => this.#see());
  }

  get step(): Step | null {
    return STEPS[this.at] ?? null;
  }

  /** What there is to do now, and where. */
  get doing(): Doing | null {
    const { step } = this;
    return step?.other?.(this.#before) ?? step;
  }

  /** A ready-made chart to do this step with, where the one that lies open has nothing for it. */
  get chart(): Preset | null {
    if (this.step?.name !== 'alter' || hasPlainDominant(this.#session.changes)) return null;
    return this.#session.presets.find(({ id }) => id.includes(FIT)) ?? null;
  }

  /** Goes on without doing this step. */
  skip(): void {
    this.#goOn(null);
  }

  /** Looks whether the step has been done. */
  look(): void {
    const now = this.#see();
    untrack(() => {
      const { step } = this;
      if (step !== null && step.isDone(now, this.#before)) this.#goOn(step.done);
    });
  }

  #goOn(done: string | null) {
    this.at = Math.min(STEPS.length, this.at + 1);
    this.done = done;
    this.#before = this.#see();
  }

  #see(): Seen {
    const { playing, loop, practising, project } = this.#session;
    return {
      heard: playing.on && playing.now?.countIn === 0,
      altered: playing.heard.length,
      loop: loop === null ? null : `${loop.from} ${loop.to}`,
      neck: this.#neck.shown ? `form ${this.#neck.values.form?.number ?? 'none'}` : 'away',
      tempo: practising.tempo,
      ladder: project.practice.ladder !== null,
      sheet: this.#sheet(),
    };
  }
}

/** Part of the name of the ready-made chart with plain dominants that the tour goes to. */
const FIT = 'two-five-one';
