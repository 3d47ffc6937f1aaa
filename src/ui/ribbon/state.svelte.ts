import { isDominant, ticks, type PlacedTreatment, type Stretch, type Ticks } from '../../engine/index.ts';
import { Hits } from './hits.svelte.ts';
import type { Session } from '../session.svelte.ts';
import { beatAt, indexAt, stepBeat, type Beat } from './layout.ts';
import type { ChordView } from './bars.ts';
import { spansIn } from './sources.ts';

/** A stretch being dragged out, not yet done. */
export interface Drag {
  readonly does: 'alter' | 'loop';
  readonly stretch: Stretch;
}

/** Where the player is in the ribbon, and what is being done there. Ticks of the form. */
export class RibbonState {
  /** The start of the beat that has the focus. */
  cursor: Ticks = $state(ticks(0));
  /** The beat a mouse rests on; null while there is none. */
  hovered: Ticks | null = $state(null);
  /** The beat a selection was begun from; null while only one beat is meant. */
  anchor: Ticks | null = $state(null);
  editing: ChordView | null = $state.raw(null);
  menu: PlacedTreatment | null = $state.raw(null);
  /** The start of the span whose scale is being chosen. */
  scaleAt: Ticks | null = $state(null);
  drag: Drag | null = $state.raw(null);
  readonly hits: Hits;

  readonly #session: Session;
  /** What was looped before looping was switched off. */
  #last: Stretch | null = null;

  /** The beats that are meant, from the first to the end of the last; null in an empty form. */
  readonly selection: Stretch | null = $derived.by(() => {
    const { bars } = this.#session.form;
    const here = beatAt(bars, this.cursor);
    const there = this.anchor === null ? here : beatAt(bars, this.anchor);
    return here === null || there === null ? null : between(here, there);
  });

  constructor(session: Session) {
    this.#session = session;
    this.hits = new Hits(session);
  }

  isSelected(beat: Beat): boolean {
    const { selection } = this;
    return (
      this.anchor !== null && selection !== null && beat.start >= selection.from && beat.start < selection.to
    );
  }

  /** Makes the beat at `tick` the one that is meant. */
  reach(tick: Ticks, extend = false): void {
    if (tick === this.cursor && !extend) return;
    if (extend) this.anchor ??= this.cursor;
    else if (this.anchor !== tick) this.anchor = null;
    this.cursor = tick;
  }

  /** `by` beats on. */
  step(by: number, extend: boolean): void {
    const beat = stepBeat(this.#session.form.bars, this.cursor, by);
    if (beat !== null) this.#move(beat.start, extend);
  }

  /** To the beat that `tick` lies in. */
  moveTo(tick: number, extend: boolean): void {
    const beat = beatAt(this.#session.form.bars, tick);
    if (beat !== null) this.#move(beat.start, extend);
  }

  #move(to: Ticks, extend: boolean) {
    if (extend) this.anchor ??= this.cursor;
    else this.anchor = null;
    this.cursor = to;
  }

  /** Opens the chord at the cursor for editing. */
  edit(chord: ChordView): void {
    this.close();
    this.editing = chord;
  }

  /** Alters a stretch, or opens what is placed there already. */
  alter(stretch: Stretch | null = this.selection): void {
    const session = this.#session;
    if (stretch === null) return;
    const known = this.placedAt(stretch.from);
    if (known !== null && this.anchor === null) {
      this.open(known);
      return;
    }
    const under = spansIn(session.changes, stretch.from, stretch.to);
    if (!under.some(({ span }) => span.written !== null && isDominant(span.written))) {
      session.say('No dominant lies here. Only dominants can be altered, such as G7 or C13.');
      return;
    }
    session.place(stretch, 'altered');
    this.anchor = null;
    session.say('Altered at every pass. Select it again to change it.', true);
  }

  /** Opens what is placed. */
  open(placed: PlacedTreatment): void {
    this.close();
    this.menu = placed;
  }

  /** Opens the scales for the chord that sounds at a tick. */
  chooseScale(tick: Ticks = this.cursor): void {
    const { spans } = this.#session.changes;
    const span = spans[indexAt(spans, tick)];
    if (span === undefined || span.chord === null) {
      this.#session.say('No chord sounds here, so there is no scale to choose. Choose a beat with a chord.');
      return;
    }
    this.close();
    this.scaleAt = span.start;
  }

  /** Places a hit on the beat at the cursor, or off it; opens the one that stands there. */
  hit(off: boolean): void {
    this.close();
    this.hits.press(this.cursor, off);
  }

  /** Closes whatever is open. */
  close(): void {
    this.menu = null;
    this.hits.open = null;
    this.scaleAt = null;
  }

  /** Loops the selection; where it loops already, plays the whole form again. */
  loop(stretch: Stretch | null = this.selection): void {
    const now = this.#session.loop;
    if (stretch === null) return;
    const same = now !== null && now.from === stretch.from && now.to === stretch.to;
    this.#session.setLoop(same ? null : stretch);
    this.anchor = null;
  }

  /** A press on a bar's number: loops it, takes it into the loop, or where it loops already stops looping. */
  loopBar(bar: Stretch): void {
    const now = this.#session.loop;
    const inside = now !== null && bar.from < now.to && now.from < bar.to;
    const from = ticks(Math.min(bar.from, now?.from ?? bar.from));
    const to = ticks(Math.max(bar.to, now?.to ?? bar.to));
    this.#session.setLoop(inside ? null : { from, to });
  }

  /** Loops what was looped last, else the bar at the cursor; or stops looping. */
  toggleLoop(): void {
    const { loop } = this.#session;
    if (loop !== null) {
      this.#last = loop;
      this.#session.setLoop(null);
      return;
    }
    const { bars } = this.#session.form;
    const bar = bars[indexAt(bars, this.#session.playing.now?.tick ?? this.cursor)];
    if (bar === undefined) return;
    const here = { from: bar.start, to: ticks(bar.start + bar.bar.length) };
    const last = this.#last;
    const end = bars.at(-1)!.start + bars.at(-1)!.bar.length;
    this.#session.setLoop(
      this.anchor !== null ? this.selection : last !== null && last.to <= end ? last : here,
    );
    this.anchor = null;
  }

  /** Where playing begins: at the cursor when it was put somewhere, else at the start. */
  startsAt(): Ticks {
    return this.#session.loop === null ? this.cursor : this.#session.loop.from;
  }

  /** Takes the placed treatment at the cursor away; where there is none, the hits of the beat. */
  remove(): void {
    const known = this.placedAt(this.cursor);
    if (known !== null) this.removeItem(known);
    else this.hits.removeIn(this.cursor);
  }

  removeItem({ id }: PlacedTreatment): void {
    this.#session.removePlaced(id);
    this.#session.say('Treatment removed.', true);
    if (this.menu?.id === id) this.menu = null;
  }

  /** The treatment placed by hand over a tick of the form, the latest where several lie there. */
  placedAt(tick: number): PlacedTreatment | null {
    const { bars } = this.#session.form;
    const { placed } = this.#session.layers;
    const last = indexAt(bars, tick);
    for (let i = last; i >= 0; i--) {
      const { bar, start } = bars[i]!;
      const found = placed.findLast(
        (item) => item.bar === bar.index && start + item.at <= tick && tick < start + item.at + item.length,
      );
      if (found !== undefined) return found;
    }
    return null;
  }
}

/** The stretch from the earlier of two beats to the end of the later. */
export function between(a: Beat, b: Beat): Stretch {
  return {
    from: ticks(Math.min(a.start, b.start)),
    to: ticks(Math.max(a.start + a.length, b.start + b.length)),
  };
}
