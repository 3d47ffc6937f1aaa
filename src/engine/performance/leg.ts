import { roundChanges, roundGap, roundLength, roundTempo, type PlayPlan } from '../arrange.ts';
import { arrangeRound, carryAt, mergeRepeats } from '../round.ts';
import { countIn, lastChord, lastSpan, settingsIn, type BandSettings, type Carry } from '../band/index.ts';
import type { Changes, Span } from '../harmony/index.ts';
import type { Gap } from '../practice/index.ts';
import { withLead } from '../lead.ts';
import { joinChanges, sliceChanges, touch } from '../treatment/index.ts';
import { barLength, ticks, type NoteEvent, type Ticks } from '../units/index.ts';
import type { Finish, LiveTouch, TempoChange } from './types.ts';

/** Rounds shorter than this many bars are arranged several at a time, so that a vamp has phrases. */
const BLOCK_BARS = 8;
/** How much of what was worked out is kept; the rest is worked out anew when asked for. */
const KEPT_BLOCKS = 3;

/** Nothing sounds. */
export const SILENCE: Carry = { bass: null, voicing: null, ringsUntil: null };

/** Where a leg begins and what it plays. Ticks are on the performance's beat line. */
export interface LegStart {
  readonly start: Ticks;
  readonly plan: PlayPlan;
  readonly touches: readonly LiveTouch[];
  /** The round with the number `round` begins at tick `origin`; all others follow from it. */
  readonly origin: Ticks;
  readonly round: number;
  /** What sounds when the leg begins. */
  readonly carry: Carry;
  /** The tick at which the last chord is struck, a bar line; null plays on for ever. */
  readonly end: Ticks | null;
  /** What is played on to before the end. */
  readonly finish: Finish;
}

/**
 * A stretch of the performance under one plan and one list of touches. Each touch and each revision
 * ends one leg and begins the next, which joins on to what sounds; what a leg plays never depends on
 * what comes later.
 */
export class Leg {
  readonly begin: LegStart;
  /** The length of every round. */
  readonly length: Ticks;
  /** The silence at the end of every round. */
  readonly gap: Gap;
  /** Rounds in a block; one where there is silence between them. */
  readonly #rounds: number;
  readonly #changes = new Map<number, Changes>();
  readonly #blocks = new Map<number, readonly NoteEvent[]>();
  /** What sounds at the end of each block worked out so far. */
  readonly #carries = new Map<number, Carry>();
  #last: readonly NoteEvent[] | null = null;
  readonly #homes = new WeakMap<Changes, Span | null>();

  /** @throws RangeError when the plan's rounds have no length */
  constructor(begin: LegStart) {
    this.begin = begin;
    this.length = roundLength(begin.plan);
    if (this.length <= 0) throw new RangeError(`a round must have a length, not ${this.length} ticks`);
    const bars = Math.max(1, roundChanges(begin.plan, begin.round).bars.length);
    this.gap = roundGap(begin.plan);
    this.#rounds = this.gap.length > 0 ? 1 : Math.ceil(BLOCK_BARS / bars);
  }

  /** The number of the round that `at` lies in. */
  roundAt(at: number): number {
    return Math.floor(this.roundOf(at));
  }

  /** Which round `at` lies in, with how much of it has gone by. */
  roundOf(at: number): number {
    return this.begin.round + (at - this.begin.origin) / this.length;
  }

  /** The tick at which a round begins. */
  startOf(round: number): Ticks {
    return ticks(this.begin.origin + (round - this.begin.round) * this.length);
  }

  /** The changes of a round with the leg's touches laid over them. */
  changesOf(round: number): Changes {
    return remembered(this.#changes, round, (KEPT_BLOCKS + 1) * this.#rounds, () => {
      const start = this.startOf(round);
      return this.begin.touches.reduce(
        (changes, { at, length, kind }) => {
          const from = Math.max(0, at - start);
          const to = Math.min(this.length, length === null ? this.length : at + length - start);
          return to > from ? touch(changes, { at: ticks(from), length: ticks(to - from), kind }) : changes;
        },
        roundChanges(this.begin.plan, round),
      );
    });
  }

  /** The changes of a round without the silence that follows, nor what comes after the end. */
  #musicOf(round: number): Changes {
    const changes = this.changesOf(round);
    const { end } = this.begin;
    const ends = end === null ? Infinity : end - this.startOf(round);
    const length = Math.min(this.length - this.gap.length, ends > 0 ? ends : Infinity);
    return length === changes.length ? changes : sliceChanges(changes, ticks(0), ticks(length));
  }

  /** The ticks of a round at which its music may end: where a section begins, and the end of all. */
  endsIn(round: number): readonly Ticks[] {
    const start = this.startOf(round);
    const { bars, length } = this.#musicOf(round);
    const marks = bars.filter(({ mark }, index) => mark !== null && index > 0);
    return [...marks.map((bar) => bar.start), length].map((at) => ticks(start + at));
  }

  /**
   * The tempi that begin with `from` ≤ tick < `to`: a round's own begins with the bars that count it in.
   * None where the plan leaves the tempo to the player.
   */
  tempi(from: Ticks, to: Ticks): TempoChange[] {
    const { plan, start, end } = this.begin;
    if (plan.practice?.ladder == null) return [];
    const { counted } = this.gap;
    const first = this.roundAt(start + counted);
    const found: TempoChange[] = [];
    for (let round = Math.max(first, this.roundAt(from + counted)); ; round++) {
      const at = ticks(Math.max(start, this.startOf(round) - counted));
      if (at >= to || (end !== null && at >= end)) return found;
      const tempo = roundTempo(plan, round);
      const changes = round === first || tempo !== roundTempo(plan, round - 1);
      if (changes && at >= from) found.push({ at, tempo });
    }
  }

  /** The notes with `from` ≤ onset < `to`, none before the leg begins. */
  notes(from: Ticks, to: Ticks): NoteEvent[] {
    const found: NoteEvent[] = [];
    const first = Math.max(from, this.begin.start);
    if (to <= first) return found;
    const { end } = this.begin;
    const before = end === null ? to : Math.min(to, end);
    for (let block = this.#blockAt(first); this.#startOfBlock(block) < before; block++) {
      const start = this.#startOfBlock(block);
      for (const note of this.#block(block)) {
        const at = start + note.at;
        if (at >= first && at < before) found.push(this.#released({ ...note, at: ticks(at) }, block));
      }
    }
    if (end !== null && end >= first && end < to) found.push(...this.#lastChord(end));
    return found;
  }

  /** A note of a block, let go where its part strikes anew in the next one. */
  #released(note: NoteEvent, block: number): NoteEvent {
    const until = note.at + note.length;
    const seam = this.#startOfBlock(block + 1);
    const { end } = this.begin;
    if (until <= seam || isPercussion(note) || (end !== null && seam >= end)) return note;
    const next = this.#block(block + 1).find(({ part, at }) => part === note.part && seam + at < until);
    return next === undefined ? note : { ...note, length: ticks(seam + next.at - note.at) };
  }

  /** Where the chord that the music ends with lies in its last round. */
  lastPlace(end: Ticks): { readonly round: number; readonly at: Ticks } {
    const round = this.roundAt(end - 1);
    return { round, at: this.lastSpan(round)?.start ?? ticks(0) };
  }

  /** How long the last bar before `end` is, and the last `count` bars together. */
  barsBefore(end: number, count: number): { readonly last: Ticks; readonly all: Ticks } {
    const round = this.roundAt(end - 1);
    const start = this.startOf(round);
    const bars = this.#musicOf(round).bars.filter((bar) => start + bar.start < end);
    const lengths = Array.from({ length: count }, (_, i) => bars.at(-1 - (i % bars.length))!.length);
    return { last: lengths[0]!, all: ticks(lengths.reduce((sum, length) => sum + length, 0)) };
  }

  /** The chord that is held at the end of a round. */
  lastSpan(round: number): Span | null {
    const changes = this.#musicOf(round);
    const known = this.#homes.get(changes);
    if (known !== undefined) return known;
    const span = lastSpan(changes, this.changesOf(round));
    this.#homes.set(changes, span);
    return span;
  }

  #lastChord(end: Ticks): readonly NoteEvent[] {
    if (this.#last === null) {
      const { round } = this.lastPlace(end);
      const span = this.lastSpan(round);
      const length = this.barsBefore(end, 1).last;
      const settings = settingsIn(this.#settingsOf(round), this.#blockAt(end - 1));
      this.#last = span === null ? [] : lastChord(span, end, length, settings, this.carryAt(end));
    }
    return this.#last;
  }

  /** What sounds just before `at`. */
  carryAt(at: Ticks): Carry {
    if (at <= this.begin.start) return this.begin.carry;
    const block = this.#blockAt(at - 1);
    return carryAt(this.#block(block), this.#startOfBlock(block), at, this.#carryInto(block));
  }

  #blockAt(at: number): number {
    return Math.floor(this.roundAt(at) / this.#rounds);
  }

  #startOfBlock(block: number): Ticks {
    return this.startOf(block * this.#rounds);
  }

  #carryInto(block: number): Carry {
    const first = this.#blockAt(this.begin.start);
    if (block <= first) return this.begin.carry;
    if (!this.#carries.has(block - 1)) {
      let known = block - 1;
      while (known > first && !this.#carries.has(known - 1)) known--;
      for (; known < block; known++) this.#block(known);
    }
    return this.#carries.get(block - 1) ?? SILENCE;
  }

  /** The band's settings at the tempo of a round. */
  #settingsOf(round: number): BandSettings {
    const { plan } = this.begin;
    return { ...plan.settings, tempo: roundTempo(plan, round) };
  }

  #block(block: number): readonly NoteEvent[] {
    return remembered(this.#blocks, block, KEPT_BLOCKS, () => {
      const first = block * this.#rounds;
      const start = this.#startOfBlock(block);
      const carry = this.#carryInto(block);
      const { end, plan } = this.begin;
      const left = end === null ? Infinity : this.roundAt(end - 1) - first + 1;
      const rounds = Math.min(this.#rounds, left);
      const ending = left <= this.#rounds;
      const music = Array.from({ length: rounds }, (_, i) => this.#musicOf(first + i));
      const changes = mergeRepeats(joinChanges(music));
      const last = ending ? this.lastSpan(first + rounds - 1) : null;
      const following = this.gap.length > 0 ? null : (this.changesOf(first + rounds).spans[0] ?? null);
      const next = last ?? following;
      const played = arrangeRound({
        changes,
        next: next && { ...next, start: ticks(ending ? 0 : next.start) },
        ending,
        hits: plan.hits ?? [],
        firstBar: block * this.#rounds * this.#musicOf(first).bars.length,
        settings: this.#settingsOf(first),
        round: block,
        from: ticks(Math.max(0, this.begin.start - start)),
        carry: { ...carry, ringsUntil: carry.ringsUntil === null ? null : ticks(carry.ringsUntil - start) },
        dropout: plan.practice?.dropout ?? null,
      });
      const apart = ending || this.gap.length > 0;
      const all = plan.lead
        ? withLead(played, plan.lead, music, this.length, this.#settingsOf(first))
        : played;
      const notes = apart ? all.map((note) => within(note, changes.length)) : [...all];
      if (!ending) notes.push(...this.#counted(first));
      const carried = carryAt(notes, start, ticks(start + changes.length), carry);
      this.#carries.set(block, this.gap.length > 0 ? { ...carried, ringsUntil: null } : carried);
      return notes;
    });
  }

  /** The clicks that count the next round in, at the end of a round. */
  #counted(round: number): NoteEvent[] {
    const { counted } = this.gap;
    if (counted === 0) return [];
    const { metre } = this.changesOf(round + 1).bars[0]!;
    const begin = Math.max(0, this.begin.start - this.startOf(round));
    return countIn(metre, counted / barLength(metre), this.#settingsOf(round + 1))
      .map((click) => ({ ...click, at: ticks(this.length + click.at) }))
      .filter(({ at }) => at >= begin);
  }
}

/** Strokes die away by themselves; only chords and bass notes are let go. */
export const isPercussion = ({ part }: NoteEvent): boolean => part === 'drums' || part === 'click';

/** A note that ends by `end`. */
function within(note: NoteEvent, end: Ticks): NoteEvent {
  return note.at + note.length <= end ? note : { ...note, length: ticks(Math.max(1, end - note.at)) };
}

/** The value of `make` for `key`, made once and kept among the `most` latest. */
function remembered<V>(store: Map<number, V>, key: number, most: number, make: () => V): V {
  const known = store.get(key);
  if (known !== undefined) return known;
  const made = make();
  store.set(key, made);
  for (const oldest of store.keys()) {
    if (store.size <= most) break;
    store.delete(oldest);
  }
  return made;
}
