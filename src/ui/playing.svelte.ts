import {
  BETWEEN_ROUNDS,
  beatLength,
  formTickOf,
  roundGap,
  roundTempo,
  beats,
  roundLength,
  ticks,
  type Bpm,
  type Changes,
  type Ending,
  type Finish,
  type Follow,
  type LiveTouch,
  type Metre,
  type Midi,
  type NoteEvent,
  type NoteSource,
  type Performance,
  type Place,
  type PlayPlan,
  type Ticks,
  type TreatmentKind,
} from '../engine/index.ts';
import { attackAt } from './attack.ts';
import { bandHere, fetchBand, type Band } from './band.ts';
import { intoRound } from './into-round.ts';
import type { HeardTouch } from './layering.ts';
import { indexAt } from './ribbon/layout.ts';
import type { PlayerPort, PlayerState } from './ports.ts';

/** Where the music is, to the beat. Ticks of the form. */
export interface Now {
  readonly place: Place;
  /** Index of the bar in the round's changes. */
  readonly bar: number;
  /** Counted from 0. */
  readonly beat: number;
  readonly metre: Metre;
  /** The form's tick at which this beat began. */
  readonly tick: Ticks;
  /** Beats left to count before the music begins; 0 once it has. */
  readonly countIn: number;
  /** True in the silence between two rounds, until it is counted in. */
  readonly rests: boolean;
  /** By which the music goes. */
  readonly plan: PlayPlan;
}

/** What a live touch will do, for the player to read before it sounds. */
export interface TouchReport {
  readonly at: Ticks;
  /** The dominants it lies over, as they sound then; empty when there is none. */
  readonly chords: readonly string[];
}

/** Said where the code that plays cannot be had. */
const MISSING = 'The band could not be loaded. Look to the connection and press play again.';
/** How long the last chord may die away before the band has stopped. */
const RINGS_ON = beats(2);
/** How far the notes are worked out before they are handed to the player. */
const WORKED_OUT = beats(8);
/** How far back a chord that still sounds may have been struck. */
const STRUCK = beats(4);
/** Over how many ticks a slowing down is measured. */
const SLOPE = beats(0.125);
/** How many ticks are tried before a late one is taken: a page that slow has other troubles. */
const ATTEMPTS = 3;

/** The band at work: the one place where the performance and the player meet. */
export class Playing {
  state: PlayerState = $state.raw({ type: 'idle' });
  on = $state(false);
  now: Now | null = $state.raw(null);
  touches: readonly LiveTouch[] = $state.raw([]);
  /** The touches that were let go, where they lie in the form. */
  heard: readonly HeardTouch[] = $state.raw([]);
  /** True while the music comes to its end. */
  ending = $state(false);
  /** True while a touch is held down. */
  held = $state(false);
  /** True while a take is listened to: it is played as it was, whatever is done meanwhile. */
  listening = $state(false);

  readonly #player: PlayerPort;
  #performance: Performance | null = null;
  #latest: Performance | null = null;
  /** By which plan the music goes from which tick of the performance on. */
  #plans: { readonly at: number; readonly plan: PlayPlan }[] = [];
  #touchAt: Ticks | null = null;
  /** What is to be played once the code for it is here; null while nothing waits for that. */
  #waiting: { plan: PlayPlan } | null = null;

  constructor(player: PlayerPort) {
    this.#player = player;
    player.watch((state) => {
      this.state = state;
      if (state.type === 'failed') this.#clear();
    });
  }

  /** Must be called from a user's gesture. `from` is a tick of the form. */
  async start(plan: PlayPlan, from: Ticks, countIn: number): Promise<void> {
    this.touches = [];
    this.heard = [];
    this.on = true;
    const band = bandHere();
    if (band !== null) return this.#begin(band, plan, from, countIn);
    this.#player.wake?.();
    this.state = { type: 'loading', done: 0, total: 1 };
    const waiting = (this.#waiting = { plan });
    const fetched = await fetchBand().catch(() => null);
    if (this.#waiting !== waiting) return;
    this.#waiting = null;
    if (fetched === null) {
      this.state = { type: 'failed', message: MISSING };
      this.#clear();
    } else if (roundLength(waiting.plan) === 0) this.stop();
    else await this.#begin(fetched, waiting.plan, from, countIn);
  }

  async #begin(band: Band, plan: PlayPlan, from: Ticks, countIn: number): Promise<void> {
    const performance = band.startPerformance(plan, { countIn, from: intoRound(plan, from) });
    this.#performance = performance;
    this.#plans = [{ at: -Infinity, plan }];
    await this.#player.start(performance, roundTempo(plan, 0), performance.begin);
  }

  /**
   * Plays a performance as it was, from tick `at` of it on; must be called from a user's gesture.
   * @param source its notes and the tempi it went at
   */
  async listen(performance: Performance, source: NoteSource, tempo: Bpm, at: Ticks): Promise<void> {
    if (this.on) this.stop();
    this.#performance = performance;
    this.#plans = [...performance.plans];
    this.touches = performance.touches;
    this.heard = [];
    this.on = true;
    this.listening = true;
    await this.#player.start(source, tempo, at);
  }

  /** What is played, or was last; null before that. */
  get performance(): Performance | null {
    return this.#performance ?? this.#latest;
  }

  /** The performance's tick being heard, with a fraction; null when nothing plays. */
  tick(): number | null {
    return this.#player.position();
  }

  stop(): void {
    this.#player.stop();
    this.#clear();
  }

  #clear() {
    this.#latest = this.#performance ?? this.#latest;
    this.listening = false;
    this.on = false;
    this.ending = false;
    this.held = false;
    this.now = null;
    this.touches = [];
    this.#performance = null;
    this.#waiting = null;
    this.#touchAt = null;
  }

  /** Plays on by another plan, from the next beat or the next bar. */
  revise(plan: PlayPlan, from: 'beat' | 'bar', follow?: Follow): void {
    if (this.#waiting !== null) this.#waiting.plan = plan;
    const performance = this.#changeable();
    if (performance === null || performance.end !== null || plan.written.length === 0) return;
    const at = this.#join(
      (reach) => (from === 'beat' ? performance.nextBeat(reach) : performance.nextBar(reach)),
      (tick) => performance.revise(plan, tick, follow),
    );
    this.#plans.push({ at, plan });
    this.look();
  }

  /**
   * Plays the round once more from its beginning, from the next beat or bar on.
   * @param plan by which it is then played; as it was when left out
   */
  again(plan?: PlayPlan, from: 'beat' | 'bar' = 'beat'): void {
    const performance = this.#changeable();
    if (performance === null || performance.end !== null) return;
    const at = this.#join(
      (reach) => (from === 'beat' ? performance.nextBeat(reach) : performance.nextBar(reach)),
      (tick) => (plan === undefined ? performance : performance.revise(plan, tick)).again(tick),
    );
    if (plan !== undefined) this.#plans.push({ at, plan });
    this.look();
  }

  /** Alters from the next beat on, until {@link release}. */
  press(kind: TreatmentKind): TouchReport | null {
    const performance = this.#changeable();
    if (performance === null || this.#touchAt !== null) return null;
    const at = this.#join(
      (reach) => performance.nextBeat(reach),
      (tick) => performance.touch(tick, null, kind),
    );
    this.#touchAt = at;
    this.held = true;
    this.look();
    return { at, chords: this.#treatedFrom(at) };
  }

  /** Lets go: the touch lasts `least` from its first beat, or to the next beat where that is later. */
  release(least: Ticks): void {
    const performance = this.#performance;
    const from = this.#touchAt;
    this.#touchAt = null;
    this.held = false;
    if (performance === null || from === null) return;
    const at = this.#join(
      (reach) => ticks(Math.max(from + least, performance.nextBeat(reach))),
      (tick) => performance.release(tick),
    );
    this.look();
    if (this.#treatedFrom(from).length === 0) return;
    const { kind } = this.touches.findLast((touch) => touch.at === from) ?? { kind: 'altered' as const };
    const { roundStart } = performance.locate(from);
    const start = formTickOf(this.#planAt(from), from - roundStart);
    if (start === null) return;
    this.heard = [...this.heard, { from: ticks(start), to: ticks(start + at - from), kind }];
  }

  /** Brings the music to its end: the round or section is played out, slowing down, to a chord that is held. */
  finish(finish: Finish = 'round'): void {
    const performance = this.#changeable();
    if (performance === null || performance.end !== null) return;
    this.#join(
      (reach) => performance.nextBeat(reach),
      (tick) => performance.finish(tick, finish),
    );
    this.ending = true;
  }

  /** How the music comes to its end, or would if it were asked to now; null when nothing plays. */
  foresee(finish: Finish): Ending | null {
    const performance = this.#performance;
    return performance?.finish(performance.nextBeat(this.#reach()), finish).ending ?? null;
  }

  setTempo(tempo: Bpm): void {
    if (this.on && !this.listening) this.#player.setTempo(tempo);
  }

  /**
   * The notes of the chord that the band strikes in the beat that sounds, else of the last one it struck.
   * @param belongs whether a note belongs to what sounds: what rings on from before, or is struck ahead of the
   * next chord, is passed over
   * @returns nothing while nothing plays, or nothing was struck of late
   */
  struck(belongs: (note: NoteEvent) => boolean): readonly NoteEvent[] {
    const { now } = this;
    if (now === null || this.#performance === null || now.countIn > 0) return [];
    const bar = now.place.changes.bars[now.bar]!;
    const unit = beatLength(now.metre);
    const beat = now.place.roundStart + bar.start - bar.skipped + now.beat * unit;
    const chords = this.#performance
      .notes(ticks(beat - STRUCK), ticks(beat + unit))
      .filter(({ part }) => part === 'comp');
    return attackAt(beat, chords, belongs);
  }

  /** Sounds one note by itself. Must come from a user's gesture. */
  audition(pitch: Midi, instrument: 'guitar' | 'bass' | 'piano'): void {
    void this.#player.audition?.(pitch, instrument);
  }

  /** The form's tick being heard, with a fraction; null when nothing plays or the band counts in. */
  formTick(): number | null {
    const at = this.#player.position();
    if (at === null || at < 0 || this.#performance === null) return null;
    const { roundStart } = this.#performance.locate(at);
    return formTickOf(this.#planAt(at), at - roundStart);
  }

  /** The tick within the round that `now` tells of, with a fraction; less than 0 before it begins. */
  roundTick(): number | null {
    const at = this.#player.position();
    return at === null || this.now === null ? null : this.#inRound(at);
  }

  /** The changes of the round after the one that `now` tells of; null where none follows. */
  following(): Changes | null {
    const { now } = this;
    if (now === null || this.#performance?.end !== null) return null;
    return this.#performance.locate(now.place.roundStart + now.place.changes.length).changes;
  }

  /** How many ticks of the round go by in a second, as the music goes now; 0 while it stands still. */
  speed(): number {
    const speed = this.#player.speed();
    const at = this.#player.position();
    if (at === null || this.now === null || this.#performance?.end == null) return speed;
    return (speed * (this.#inRound(at + SLOPE) - this.#inRound(at))) / SLOPE;
  }

  /** While the music slows down, the round goes by more slowly than the clock. */
  #inRound(at: number): number {
    const performance = this.#performance!;
    return at - (performance.end === null ? this.now!.place : performance.locate(at)).roundStart;
  }

  /** Looks where the music is; called again and again. Changes `now` only when a beat begins. */
  look(): void {
    const performance = this.#performance;
    const at = this.#player.position();
    if (performance === null || at === null) return;
    if (performance.end !== null && at >= performance.end + RINGS_ON) {
      this.stop();
      return;
    }
    const here = performance.locate(at);
    const silent = here.changes.bars[here.bar]?.written === BETWEEN_ROUNDS;
    const left = here.changes.length - here.at;
    // In the silence after a round the next one is what matters.
    const place = silent ? performance.locate(here.roundStart + here.changes.length) : here;
    const bar = place.changes.bars[place.bar];
    if (bar === undefined) return;
    const unit = beatLength(bar.metre);
    const plan = this.#planAt(at);
    const rests = silent && left > roundGap(plan).counted;
    const countIn = at < 0 ? Math.ceil(-at / unit) : silent && !rests ? Math.ceil(left / unit) : 0;
    const into = at - place.roundStart - bar.start + bar.skipped;
    const beat = at < 0 || silent ? 0 : Math.floor(into / unit);
    const now = this.now;
    const known =
      now !== null &&
      now.plan === plan &&
      now.place.changes === place.changes &&
      // While the music slows down its rounds seem to begin later and later.
      (now.place.roundStart === place.roundStart || performance.end !== null) &&
      now.place.span === place.span &&
      now.bar === place.bar &&
      now.beat === beat &&
      now.countIn === countIn &&
      now.rests === rests;
    if (known) return;
    const start = Math.max(bar.start, bar.start - bar.skipped + beat * unit);
    const tick = ticks(formTickOf(plan, start) ?? 0);
    this.now = { place, bar: place.bar, beat, metre: bar.metre, tick, countIn, rests, plan };
  }

  /**
   * Hands the player what `make` gives from the tick on that `next` finds within reach, and says which
   * that is. The notes are worked out first: where that takes so long that the tick is out of reach by
   * then, the next one is taken, so that no note is late.
   */
  #join(next: (reach: number) => Ticks, make: (at: Ticks) => Performance): Ticks {
    for (let attempt = 1; ; attempt++) {
      const at = next(this.#reach());
      const performance = make(at);
      performance.notes(at, ticks(at + WORKED_OUT));
      if (this.#reach() > at && attempt < ATTEMPTS) continue;
      this.#performance = performance;
      this.touches = performance.touches;
      this.#player.replace(performance, at);
      return at;
    }
  }

  /** What is played, where it can be changed. */
  #changeable(): Performance | null {
    return this.listening ? null : this.#performance;
  }

  #reach(): number {
    return this.#player.reach() ?? this.#player.position() ?? 0;
  }

  #planAt(at: number): PlayPlan {
    return this.#plans.findLast((known) => known.at <= at)!.plan;
  }

  /** What sounds under a live touch from `at` on, in the round that `at` lies in. */
  #treatedFrom(at: Ticks): string[] {
    const place = this.#performance!.locate(at);
    return place.changes.spans
      .slice(indexAt(place.changes.spans, place.at))
      .filter((span) => span.treatment?.origin === 'live')
      .map((span) => span.chord?.text ?? '');
  }
}
