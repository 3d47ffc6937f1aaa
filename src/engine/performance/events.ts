import { roundChanges, roundPieces, type PlayPlan } from '../arrange.ts';
import { BETWEEN_ROUNDS, type Changes, type PlayedBar } from '../harmony/index.ts';
import type { TreatmentKind } from '../treatment/index.ts';
import { ticks, type Ticks } from '../units/index.ts';
import { Leg, type LegStart } from './leg.ts';
import { slowBars } from './ritard.ts';
import type { Finish, LiveTouch } from './types.ts';

/** Says where a written bar went when the chart was edited; null when it is gone. */
export type Follow = (bar: number) => number | null;

/** What changes the music from a tick on. */
export type Event =
  | {
      readonly type: 'touch';
      readonly at: Ticks;
      readonly length: Ticks | null;
      readonly kind: TreatmentKind;
    }
  | { readonly type: 'release'; readonly at: Ticks }
  | { readonly type: 'finish'; readonly at: Ticks; readonly finish: Finish }
  | { readonly type: 'again'; readonly at: Ticks }
  | Revision;

export interface Revision {
  readonly type: 'revise';
  readonly at: Ticks;
  readonly plan: PlayPlan;
  readonly follow: Follow;
}

/** One edit after another. */
export function chained(follows: readonly Follow[], bar: number): number | null {
  return follows.reduce<number | null>((at, follow) => (at === null ? null : follow(at)), bar);
}

/** The leg that `event` begins. */
export function follows(leg: Leg, event: Event): LegStart {
  const start = event.at;
  const round = leg.roundAt(start);
  const roundStart = leg.startOf(round);
  const current = leg.begin.touches.filter(
    (touch) => touch.length === null || touch.at + touch.length > roundStart,
  );
  const joined = { ...leg.begin, start, carry: leg.carryAt(start) };
  if (event.type === 'finish') {
    const { finish } = event;
    return { ...joined, touches: current, finish, end: endAfter(leg, start, finish) };
  }
  if (event.type === 'again') {
    const counted = ticks(start + leg.gap.counted);
    const { end } = leg.begin;
    return {
      ...joined,
      touches: [],
      origin: counted,
      round,
      end: end === null ? null : ticks(end + counted - roundStart),
    };
  }
  if (event.type !== 'revise') return { ...joined, touches: touched(current, event) };
  const into = position(leg, start, event.plan, event.follow);
  const revised = { ...joined, plan: event.plan, touches: current, origin: ticks(start - into), round };
  return leg.begin.end === null
    ? revised
    : { ...revised, end: endAfter(new Leg({ ...revised, end: null }), start, revised.finish) };
}

/** The touches, those of an event among them. */
export function touched(touches: readonly LiveTouch[], event: Event): readonly LiveTouch[] {
  if (event.type !== 'touch' && event.type !== 'release') return touches;
  if (event.type === 'touch') return [...touches, { at: event.at, length: event.length, kind: event.kind }];
  return touches.map((touch) =>
    touch.length === null ? { ...touch, length: ticks(Math.max(0, event.at - touch.at)) } : touch,
  );
}

/** The end of the first round, or of the first section, that leaves time to slow down after `at`. */
function endAfter(leg: Leg, at: Ticks, finish: Finish): Ticks {
  if (finish === 'section') {
    const count = slowBars(leg.begin.plan.settings.tempo);
    for (let round = leg.roundAt(at); ; round++) {
      const end = leg.endsIn(round).find((each) => each - leg.barsBefore(each, count).all >= at);
      if (end !== undefined) return end;
    }
  }
  const round = leg.roundAt(at) + 1;
  const slow = leg.barsBefore(leg.startOf(round), slowBars(leg.begin.plan.settings.tempo)).all;
  const { length: gap } = leg.gap;
  return ticks(leg.startOf(Math.max(round, Math.ceil(leg.roundOf(at + slow + gap)))) - gap);
}

/** Where in a round of `plan` the music is that stands at tick `at` of `leg`. */
function position(leg: Leg, at: Ticks, plan: PlayPlan, follow: Follow): Ticks {
  const round = leg.roundAt(at);
  const before = leg.changesOf(round);
  const after = roundChanges(plan, round);
  const into = at - leg.startOf(round);
  const first = Math.max(
    0,
    before.bars.findLastIndex((bar) => bar.start <= into),
  );
  if (before.bars[first]?.written === BETWEEN_ROUNDS) {
    return ticks(Math.max(0, after.length - (before.length - into)));
  }
  for (const old of before.bars.slice(first)) {
    const written = follow(old.written);
    const there =
      written === null ? undefined : nearest(after, written, old.start + shift(leg.begin.plan) - shift(plan));
    if (there === undefined) continue;
    const within = old === before.bars[first] ? into - old.start + old.skipped : 0;
    const place = there.start - there.skipped + Math.min(within, there.skipped + there.length);
    return ticks(place < 0 || place >= after.length ? 0 : place);
  }
  return ticks(0);
}

/** How far into the form a plan's rounds begin. */
function shift(plan: PlayPlan): number {
  return roundPieces(plan)[0]?.form ?? 0;
}

/** The bar that plays a written bar, nearest to a tick where it is played more than once. */
function nearest(changes: Changes, written: number, tick: number): PlayedBar | undefined {
  let best: PlayedBar | undefined;
  for (const bar of changes.bars) {
    if (bar.written !== written) continue;
    if (best === undefined || Math.abs(bar.start - tick) < Math.abs(best.start - tick)) best = bar;
  }
  return best;
}
