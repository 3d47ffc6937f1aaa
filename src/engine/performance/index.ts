import { roundChanges, roundLength, type PlayPlan } from '../arrange.ts';
import { countIn, lineupOf, type Lineup } from '../band/index.ts';
import type { Changes, PlayedBar } from '../harmony/index.ts';
import type { TreatmentKind } from '../treatment/index.ts';
import { beatLength, COMMON_TIME, ticks, type NoteEvent, type Ticks } from '../units/index.ts';
import { Leg, SILENCE, type LegStart } from './leg.ts';
import type { LiveTouch, NoteSource, Place } from './types.ts';

export * from './types.ts';

/** Says where a written bar went when the chart was edited; null when it is gone. */
export type Follow = (bar: number) => number | null;

type Event =
  | {
      readonly type: 'touch';
      readonly at: Ticks;
      readonly length: Ticks | null;
      readonly kind: TreatmentKind;
    }
  | { readonly type: 'release'; readonly at: Ticks }
  | Revision;

interface Revision {
  readonly type: 'revise';
  readonly at: Ticks;
  readonly plan: PlayPlan;
  readonly follow: Follow;
}

/** What a performance begins with. */
export interface Beginning {
  /** Bars of count-in before tick 0. */
  readonly countIn: number;
  /** Where in the first round the music begins. */
  readonly from: Ticks;
}

/**
 * Begins to play a plan.
 * @throws RangeError when the plan has no music in it or `from` lies outside its round
 */
export function startPerformance(plan: PlayPlan, { countIn: bars, from }: Beginning): Performance {
  const length = roundLength(plan);
  if (from < 0 || from >= length) throw new RangeError(`the music cannot begin at tick ${from} of ${length}`);
  const first = new Leg({
    start: ticks(0),
    plan,
    touches: [],
    origin: ticks(-from),
    round: 0,
    carry: SILENCE,
  });
  const metre = first.changesOf(0).bars[0]?.metre ?? COMMON_TIME;
  return new Performance(countIn(metre, bars, plan.settings), [], [first]);
}

/**
 * The band playing round after round, as a value: each touch and each revision gives a new
 * performance that agrees with the old one up to the tick where it takes effect. The same plan and
 * the same events give the same notes, in whatever order they are asked for.
 */
export class Performance implements NoteSource {
  readonly #countIn: readonly NoteEvent[];
  /** In order of their ticks; the leg that an event begins stands one place further on in `legs`. */
  readonly #events: readonly Event[];
  readonly #legs: readonly Leg[];

  constructor(count: readonly NoteEvent[], events: readonly Event[], legs: readonly Leg[]) {
    this.#countIn = count;
    this.#events = events;
    this.#legs = legs;
  }

  /** The first tick: that of the count-in, or 0. */
  get begin(): Ticks {
    return this.#countIn[0]?.at ?? ticks(0);
  }

  /** Who plays the parts, by the latest plan. */
  get lineup(): Lineup {
    return lineupOf(this.#legs.at(-1)!.begin.plan.settings);
  }

  /** Every touch so far, in order. */
  get touches(): readonly LiveTouch[] {
    return this.#events.reduce<readonly LiveTouch[]>(
      (touches, event) => (event.type === 'revise' ? touches : touched(touches, event)),
      [],
    );
  }

  notes(from: Ticks, to: Ticks): readonly NoteEvent[] {
    const found = this.#countIn.filter((note) => note.at >= from && note.at < to);
    this.#legs.forEach((leg, i) => {
      const end = this.#legs[i + 1]?.begin.start;
      if (end === undefined) found.push(...leg.notes(from, to));
      else for (const note of leg.notes(from, lesser(to, end))) found.push(this.#ended(note, end));
    });
    return found;
  }

  /** Where tick `at` lies; the count-in counts as the first beat. */
  locate(at: number): Place {
    const leg = this.#legAt(at);
    const inside = Math.max(at, this.#legs[0]!.begin.start);
    const round = leg.roundAt(inside);
    const roundStart = leg.startOf(round);
    const changes = leg.changesOf(round);
    const place = ticks(Math.floor(inside - roundStart));
    return {
      round,
      roundStart,
      at: place,
      changes,
      bar: Math.max(
        0,
        changes.bars.findLastIndex((bar) => bar.start <= place),
      ),
      span: Math.max(
        0,
        changes.spans.findLastIndex((span) => span.start <= place),
      ),
    };
  }

  /** The first felt beat at `at` or after it. */
  nextBeat(at: number): Ticks {
    const from = Math.ceil(Math.max(at, 0));
    const { changes, roundStart, bar: index } = this.locate(from);
    const bar = changes.bars[index]!;
    const unit = beatLength(bar.metre);
    const downbeat = roundStart + bar.start - bar.skipped;
    const beat = downbeat + Math.ceil((from - downbeat) / unit) * unit;
    return ticks(Math.min(beat, roundStart + bar.start + bar.length));
  }

  /** The first bar line at `at` or after it. */
  nextBar(at: number): Ticks {
    const from = Math.ceil(Math.max(at, 0));
    const { changes, roundStart, bar: index } = this.locate(from);
    const bar = changes.bars[index]!;
    const start = roundStart + bar.start;
    return ticks(start === from ? start : start + bar.length);
  }

  /** Lays a treatment over whatever dominant lies at `at` and for `length` after it; null holds it on. */
  touch(at: Ticks, length: Ticks | null, kind: TreatmentKind): Performance {
    return this.#with({ type: 'touch', at, length, kind });
  }

  /** Ends at `at` the treatment that is held. */
  release(at: Ticks): Performance {
    return this.#with({ type: 'release', at });
  }

  /**
   * Plays on by another plan from tick `at`, in the bar where the music is by then; from the start of
   * the loop when that bar lies outside it. Takes the place of revisions that were still to come.
   * @param follow where the written bars went since the latest plan, when the chart was edited
   * @throws RangeError when the plan has no music in it
   */
  revise(plan: PlayPlan, at: Ticks, follow: Follow = (bar) => bar): Performance {
    const pending = this.#events.filter(
      (event): event is Revision => event.type === 'revise' && event.at >= at,
    );
    const follows = [...pending.map((event) => event.follow), follow];
    return this.#with({ type: 'revise', at, plan, follow: (bar) => chained(follows, bar) }, pending);
  }

  #with(event: Event, without: readonly Event[] = []): Performance {
    const kept = this.#events.filter((known) => !without.includes(known));
    const place = kept.findLastIndex((other) => other.at <= event.at) + 1;
    const events = kept.toSpliced(place, 0, event);
    const same = events.findIndex((known, i) => known !== this.#events[i]);
    const legs = this.#legs.slice(0, same + 1);
    for (const next of events.slice(same)) legs.push(new Leg(follows(legs.at(-1)!, next)));
    return new Performance(this.#countIn, events, legs);
  }

  #legAt(at: number): Leg {
    return this.#legs.findLast((leg) => leg.begin.start <= at) ?? this.#legs[0]!;
  }

  /** A note of a leg that ends at `end`, cut short where its part strikes anew after that. */
  #ended(note: NoteEvent, end: Ticks): NoteEvent {
    const until = note.at + note.length;
    if (until <= end || note.part === 'drums' || note.part === 'click') return note;
    const next = this.notes(end, ticks(until)).find((other) => other.part === note.part);
    return next === undefined ? note : { ...note, length: ticks(next.at - note.at) };
  }
}

function chained(follows: readonly Follow[], bar: number): number | null {
  return follows.reduce<number | null>((at, follow) => (at === null ? null : follow(at)), bar);
}

function lesser(a: Ticks, b: Ticks): Ticks {
  return a < b ? a : b;
}

/** The leg that `event` begins. */
function follows(leg: Leg, event: Event): LegStart {
  const start = event.at;
  const round = leg.roundAt(start);
  const roundStart = leg.startOf(round);
  const current = leg.begin.touches.filter(
    (touch) => touch.length === null || touch.at + touch.length > roundStart,
  );
  const joined = { ...leg.begin, start, carry: leg.carryAt(start) };
  if (event.type !== 'revise') return { ...joined, touches: touched(current, event) };
  const into = position(leg, start, event.plan, event.follow);
  return { ...joined, plan: event.plan, touches: current, origin: ticks(start - into), round };
}

function touched(touches: readonly LiveTouch[], event: Exclude<Event, Revision>): readonly LiveTouch[] {
  if (event.type === 'touch') return [...touches, { at: event.at, length: event.length, kind: event.kind }];
  return touches.map((touch) =>
    touch.length === null ? { ...touch, length: ticks(Math.max(0, event.at - touch.at)) } : touch,
  );
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
  return plan.loop?.from ?? 0;
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
