import { PPQ, type Bpm } from '../../engine/index.ts';
import type { Moment } from '../types.ts';

/** From `tick` on, which lies at `time` on the audio clock, the music moves at `bpm`. */
interface Anchor {
  readonly tick: number;
  readonly time: number;
  readonly bpm: Bpm;
}

const ticksPerSecond = (bpm: Bpm) => (bpm * PPQ) / 60;

/** How many tempi live music remembers: more than a hand can set in a take. */
const REMEMBERED = 4096;

/** The map between ticks and seconds of the audio clock, one straight line for each tempo. */
export class Timeline {
  /** In order of time. */
  #anchors: readonly Anchor[];
  readonly #remembered: number;

  /**
   * Tick `tick` lies at `time` and everything else follows from the tempo.
   * @param remembered how many tempi before the latest are kept
   */
  constructor(tick: number, time: number, bpm: Bpm, remembered = REMEMBERED) {
    this.#anchors = [{ tick, time, bpm }];
    this.#remembered = remembered;
  }

  /** The audio time of a tick. */
  timeOf(tick: number): number {
    const anchor = this.#anchors.findLast((a) => a.tick <= tick) ?? this.#anchors[0]!;
    return anchor.time + (tick - anchor.tick) / ticksPerSecond(anchor.bpm);
  }

  /** The tick, with a fraction, at an audio time. */
  tickAt(time: number): number {
    const anchor = this.#before(time);
    return anchor.tick + (time - anchor.time) * ticksPerSecond(anchor.bpm);
  }

  /** How fast the music goes at an audio time, ticks per second. */
  speedAt(time: number): number {
    return ticksPerSecond(this.#before(time).bpm);
  }

  #before(time: number): Anchor {
    return this.#anchors.findLast((a) => a.time <= time) ?? this.#anchors[0]!;
  }

  /** Every tempo so far, in order. */
  get course(): readonly Moment[] {
    return this.#anchors.map(({ tick, time, bpm }) => ({ tick, time, tempo: bpm }));
  }

  /** Another tempo from tick `tick` on; tempi that were to begin later are forgotten. */
  setTempo(bpm: Bpm, tick: number): void {
    const time = this.timeOf(tick);
    const before = this.#anchors.filter((a) => a.tick < tick).slice(-this.#remembered);
    this.#anchors = [...before, { tick, time, bpm }];
  }

  /** Another tempo from tick `tick` on, which no later tempo has been set for. */
  anchor(tick: number, bpm: Bpm): void {
    if (this.#anchors.some((a) => a.tick === tick && a.bpm === bpm)) return;
    const time = this.timeOf(tick);
    const before = this.#anchors.filter((a) => a.tick < tick).slice(-this.#remembered);
    this.#anchors = [...before, { tick, time, bpm }];
  }

  /** Forgets the tempi that were to begin after tick `tick`. */
  forget(tick: number): void {
    const kept = this.#anchors.filter((a) => a.tick <= tick);
    if (kept.length > 0) this.#anchors = kept;
  }
}
