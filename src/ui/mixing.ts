import {
  FIRST_MIX,
  FLAT,
  isFlat,
  TONE_RANGE,
  type Level,
  type Mix,
  type Part,
  type Project,
  type Shelves,
} from '../engine/index.ts';
import type { PlayerPort } from './ports.ts';

/** What the mixer needs of the session it belongs to. */
export interface Mixed {
  readonly project: Project;
  /** Changes of one `run` are undone together; null stands alone. */
  change(change: Partial<Project>, what: string, run: string | null): void;
}

/** The mixer of a chart: how each part is heard and the tone of the whole band. */
export class Mixing {
  readonly #session: Mixed;
  readonly #player: PlayerPort;
  #told: { readonly mix: Mix | null; readonly tone: Shelves } = { mix: null, tone: FLAT };

  constructor(session: Mixed, player: PlayerPort) {
    this.#session = session;
    this.#player = player;
  }

  get mix(): Mix {
    return this.#session.project.mix;
  }

  get tone(): Shelves {
    return this.#session.project.tone;
  }

  /** False while everything stands as it first does. */
  get moved(): boolean {
    return !isFirst(this.mix, this.tone);
  }

  set(part: Part, change: Partial<Level>): void {
    const slides = change.level !== undefined || change.pan !== undefined;
    const { solo, ...level } = { ...this.mix[part], ...change };
    const next = { ...level, ...(solo === true && { solo }) };
    this.#session.change({ mix: { ...this.mix, [part]: next } }, 'Mix', slides ? `mix ${part}` : null);
  }

  /** Each shelf to the nearest whole dB it can be set to. */
  setTone(change: Partial<Shelves>): void {
    const inRange = (value: number) =>
      Math.min(TONE_RANGE.max, Math.max(TONE_RANGE.min, Math.round(value))) + 0;
    const { low, high } = { ...this.tone, ...change };
    this.#session.change({ tone: { low: inRange(low), high: inRange(high) } }, 'Tone', 'tone');
  }

  /** Everything as the band first sounds. */
  reset(): void {
    this.#session.change({ mix: FIRST_MIX, tone: FLAT }, 'First mix', null);
  }

  /** A chart that comes with no mix of its own is played in the one at hand. */
  adopt(project: Project): Project {
    const silent = project.id === '' && isFirst(project.mix, project.tone);
    return silent ? { ...project, mix: this.mix, tone: this.tone } : project;
  }

  /** Lets the player hear what has changed. */
  tell(): void {
    const { mix, tone } = this;
    if (mix !== this.#told.mix) this.#player.setMix(mix);
    if (tone.low !== this.#told.tone.low || tone.high !== this.#told.tone.high) this.#player.setTone?.(tone);
    this.#told = { mix, tone };
  }
}

const isFirst = (mix: Mix, tone: Shelves) =>
  isFlat(tone) && JSON.stringify(mix) === JSON.stringify(FIRST_MIX);
