import { formTickOf, roundLength, roundTempo, type PlayPlan } from '../arrange.ts';
import { countIn, lineupOf, type Lineup } from '../band/index.ts';
import type { TreatmentKind } from '../treatment/index.ts';
import { barLength, beatLength, COMMON_TIME, ticks, type NoteEvent, type Ticks } from '../units/index.ts';
import { chained, follows, touched, type Event, type Follow, type Revision } from './events.ts';
import { isPercussion, Leg, SILENCE } from './leg.ts';
import { inTime, slowBars, slowed, type Ritard } from './ritard.ts';
import type { Ending, Finish, LiveTouch, NoteSource, Place, TempoChange } from './types.ts';

export * from './types.ts';
export type { Event, Follow, Revision } from './events.ts';

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
    end: null,
    finish: 'round',
  });
  const metre = first.changesOf(0).bars[0]?.metre ?? COMMON_TIME;
  const settings = { ...plan.settings, tempo: roundTempo(plan, 0) };
  return new Performance(countIn(metre, bars, settings), [], [first]);
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

  /** The plan it began with, and where. */
  get beginning(): Beginning & { readonly plan: PlayPlan } {
    const { plan, origin } = this.#legs[0]!.begin;
    const metre = this.#legs[0]!.changesOf(0).bars[0]?.metre ?? COMMON_TIME;
    return { plan, from: ticks(-origin), countIn: Math.round(-this.begin / barLength(metre)) };
  }

  /** What has changed the music since, in order of when it took effect. */
  get events(): readonly Event[] {
    return this.#events;
  }

  /** By which plan the music goes from which tick on, in order. */
  get plans(): readonly { readonly at: number; readonly plan: PlayPlan }[] {
    const revised = this.#events.filter((event): event is Revision => event.type === 'revise');
    return [{ at: -Infinity, plan: this.beginning.plan }, ...revised];
  }

  /** The tick of the form that is heard at tick `at`; null where it is silent between two rounds. */
  formTick(at: number): number | null {
    const { plan } = this.plans.findLast((known) => known.at <= at)!;
    return formTickOf(plan, at - this.locate(at).roundStart);
  }

  /** The same music with events that another performance of its plan has gone through. */
  through(events: readonly Event[]): Performance {
    return events.reduce<Performance>((played, event) => played.#with(event), this);
  }

  /** Who plays the parts, by the latest plan. */
  get lineup(): Lineup {
    const { settings, lead } = this.#latest.begin.plan;
    return lead ? { ...lineupOf(settings), lead: 'guitar' } : lineupOf(settings);
  }

  /** Every touch so far, in order. */
  get touches(): readonly LiveTouch[] {
    return this.#events.reduce<readonly LiveTouch[]>(touched, []);
  }

  /** The tick at which the last chord has died away; null while the music has no end. */
  get end(): Ticks | null {
    const ritard = this.#ritard();
    if (ritard === null) return null;
    return ticks(slowed(ritard.to + this.#latest.barsBefore(ritard.to, 1).last, ritard));
  }

  notes(from: Ticks, to: Ticks): readonly NoteEvent[] {
    const ritard = this.#ritard();
    if (ritard === null || to <= ritard.from) return this.#notes(from, to);
    const notes = this.#notes(
      ticks(Math.floor(inTime(from, ritard)) - 2),
      ticks(Math.ceil(inTime(to, ritard)) + 2),
    );
    return notes
      .map((note) => {
        const at = slowed(note.at, ritard);
        return { ...note, at: ticks(at), length: ticks(slowed(note.at + note.length, ritard) - at) };
      })
      .filter(({ at }) => at >= from && at < to);
  }

  /**
   * Where tick `at` lies; the count-in counts as the first beat, and the last chord as the place in the
   * last round where it stands.
   */
  locate(at: number): Place {
    const ritard = this.#ritard();
    if (ritard === null || at <= ritard.from) return this.#locate(at);
    const beat = inTime(at, ritard);
    const last = this.#latest.lastPlace(ticks(ritard.to));
    const place =
      beat < ritard.to ? this.#locate(beat) : this.#locate(this.#latest.startOf(last.round) + last.at);
    return { ...place, roundStart: ticks(Math.floor(at) - place.at) };
  }

  /** The first felt beat at `at` or after it. */
  nextBeat(at: number): Ticks {
    return this.#next(at, (from) => {
      const { changes, roundStart, bar: index } = this.#locate(from);
      const bar = changes.bars[index]!;
      const unit = beatLength(bar.metre);
      const downbeat = roundStart + bar.start - bar.skipped;
      const beat = downbeat + Math.ceil((from - downbeat) / unit) * unit;
      return Math.min(beat, roundStart + bar.start + bar.length);
    });
  }

  /** The first bar line at `at` or after it. */
  nextBar(at: number): Ticks {
    return this.#next(at, (from) => {
      const { changes, roundStart, bar: index } = this.#locate(from);
      const bar = changes.bars[index]!;
      const start = roundStart + bar.start;
      return start === from ? start : start + bar.length;
    });
  }

  /** Lays a treatment over whatever dominant lies at `at` and for `length` after it; null holds it on. */
  touch(at: Ticks, length: Ticks | null, kind: TreatmentKind): Performance {
    return this.#with({ type: 'touch', at: this.#inTime(at), length, kind });
  }

  /** Ends at `at` the treatment that is held. */
  release(at: Ticks): Performance {
    return this.#with({ type: 'release', at: this.#inTime(at) });
  }

  /**
   * Plays on by another plan from tick `at`, in the bar where the music is by then; from the start of
   * the loop when that bar lies outside it. Takes the place of revisions that were still to come. What
   * slows down to its end already is played as it was.
   * @param follow where the written bars went since the latest plan, when the chart was edited
   * @throws RangeError when the plan has no music in it
   */
  revise(plan: PlayPlan, at: Ticks, follow: Follow = (bar) => bar): Performance {
    const ritard = this.#ritard();
    if (ritard !== null && at >= ritard.from) return this;
    const pending = this.#events.filter(
      (event): event is Revision => event.type === 'revise' && event.at >= at,
    );
    const follows = [...pending.map((event) => event.follow), follow];
    return this.#with({ type: 'revise', at, plan, follow: (bar) => chained(follows, bar) }, pending);
  }

  /**
   * Brings the music to its end: the round that is played at `at` goes on to its last beat, slows down
   * in its last two bars (in one where the tempo is slow), and comes to rest on a chord that is held.
   * Another round is played where that one leaves no time to slow down. Music that has an end keeps it.
   * @param finish `section` plays on to the next rehearsal mark only, or to the end of the round
   */
  finish(at: Ticks, finish: Finish = 'round'): Performance {
    return this.#latest.begin.end === null ? this.#with({ type: 'finish', at, finish }) : this;
  }

  /** How the music comes to its end; null while it has none. */
  get ending(): Ending | null {
    const ritard = this.#ritard();
    if (ritard === null) return null;
    const last = this.#latest.lastPlace(ticks(ritard.to));
    const held = this.#latest.lastSpan(last.round);
    const slows = ticks(ritard.from);
    return {
      slows,
      rests: ticks(Math.round(slowed(ritard.to, ritard))),
      from: this.#locate(slows),
      to: this.#locate(ritard.to - 1),
      chord: held?.chord?.text ?? null,
      holds: held === null ? null : this.#locate(this.#latest.startOf(last.round) + last.at).span,
    };
  }

  /**
   * Plays the round that is played at `at` once more from its beginning, from tick `at` on; where rounds
   * are counted in, so is this one. What was altered live in it is forgotten. Music that slows down to its
   * end already is played as it was.
   */
  again(at: Ticks): Performance {
    const ritard = this.#ritard();
    return ritard !== null && at >= ritard.from ? this : this.#with({ type: 'again', at });
  }

  tempi(from: Ticks, to: Ticks): readonly TempoChange[] {
    return this.#legs.flatMap((leg, i) => {
      const end = this.#legs[i + 1]?.begin.start;
      return leg.tempi(from, end === undefined ? to : lesser(to, end));
    });
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

  get #latest(): Leg {
    return this.#legs.at(-1)!;
  }

  /** Where the music slows down. All else in here counts beats as if it did not. */
  #ritard(): Ritard | null {
    const { end, plan } = this.#latest.begin;
    if (end === null) return null;
    return { from: end - this.#latest.barsBefore(end, slowBars(plan.settings.tempo)).all, to: end };
  }

  #inTime(at: Ticks): Ticks {
    const ritard = this.#ritard();
    return ritard === null ? at : ticks(Math.round(inTime(at, ritard)));
  }

  /** The first place at `at` or after it that `find` finds from a beat on; none lies after the last chord. */
  #next(at: number, find: (from: number) => number): Ticks {
    const from = Math.ceil(Math.max(at, 0));
    const ritard = this.#ritard();
    if (ritard === null || from <= ritard.from) return ticks(find(from));
    const beat = inTime(from, ritard);
    if (beat >= ritard.to) return ticks(from);
    return ticks(Math.max(from, slowed(Math.min(find(Math.ceil(beat - 1.5)), ritard.to), ritard)));
  }

  #notes(from: Ticks, to: Ticks): NoteEvent[] {
    const found = this.#countIn.filter((note) => note.at >= from && note.at < to);
    this.#legs.forEach((leg, i) => {
      const end = this.#legs[i + 1]?.begin.start;
      if (end === undefined) found.push(...leg.notes(from, to));
      else for (const note of leg.notes(from, lesser(to, end))) found.push(this.#ended(note, end));
    });
    return found;
  }

  #locate(at: number): Place {
    const leg = this.#legAt(at);
    const inside = Math.max(at, this.#legs[0]!.begin.start);
    const round = leg.roundAt(inside);
    const roundStart = leg.startOf(round);
    const changes = leg.changesOf(round);
    const place = ticks(Math.floor(inside - roundStart));
    const indexIn = (line: readonly { readonly start: Ticks }[]) =>
      Math.max(
        0,
        line.findLastIndex(({ start }) => start <= place),
      );
    return {
      round,
      roundStart,
      at: place,
      changes,
      bar: indexIn(changes.bars),
      span: indexIn(changes.spans),
    };
  }

  #legAt(at: number): Leg {
    return this.#legs.findLast((leg) => leg.begin.start <= at) ?? this.#legs[0]!;
  }

  /** A note of a leg that ends at `end`, cut short where its part strikes anew after that. */
  #ended(note: NoteEvent, end: Ticks): NoteEvent {
    const until = note.at + note.length;
    if (until <= end || isPercussion(note)) return note;
    const next = this.#notes(end, ticks(until)).find((other) => other.part === note.part);
    return next === undefined ? note : { ...note, length: ticks(next.at - note.at) };
  }
}

function lesser(a: Ticks, b: Ticks): Ticks {
  return a < b ? a : b;
}
