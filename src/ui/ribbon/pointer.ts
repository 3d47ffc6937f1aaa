import { ticks, type Stretch, type Ticks } from '../../engine/index.ts';
import type { Session } from '../session.svelte.ts';
import { beatAt, indexAt, type Beat } from './layout.ts';
import type { Hit } from './pointing.ts';
import { between, type RibbonState } from './state.svelte.ts';
import { barView, type ChordView } from './bars.ts';

/** What pointing needs of the drawn ribbon. */
interface Surface {
  at(event: MouseEvent): Hit | null;
  px(length: number): number;
}

/** Within so many px of its edge, a stretch is taken by the edge. */
const GRIP = 12;

/** Mouse, pen and finger on the ribbon. */
export class Pointing {
  readonly #session: Session;
  readonly #ribbon: RibbonState;
  readonly #surface: Surface;
  /** The beat that stays, and what the drag does; null while nothing is dragged. */
  #drag: {
    readonly fixed: Beat;
    readonly does: 'alter' | 'loop';
    readonly id: string | null;
    moved: boolean;
  } | null = null;

  /** A press in the row of hits, on one of them or beside; null while there is none. */
  #strike: { readonly id: string | null } | null = null;

  constructor(session: Session, ribbon: RibbonState, surface: Surface) {
    this.#session = session;
    this.#ribbon = ribbon;
    this.#surface = surface;
  }

  get busy(): boolean {
    return this.#drag !== null || this.#strike !== null;
  }

  down(event: PointerEvent): void {
    if (event.button !== 0 || !isBeat(event.target)) return;
    const hit = this.#surface.at(event);
    const beat = hit && this.#beat(hit.tick);
    if (hit === null || beat === null) return;
    if (hit.row === 'hits') {
      (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
      const taken = this.#ribbon.hits.near(hit.tick, beat.length, this.#surface.px(beat.length));
      this.#strike = { id: taken?.id ?? null };
      return;
    }
    if (hit.row !== 'lane' && hit.row !== 'rail') return;
    (event.currentTarget as HTMLElement).setPointerCapture(event.pointerId);
    const does = hit.row === 'lane' ? 'alter' : 'loop';
    const known = does === 'loop' ? this.#session.loop : this.#placedStretch(hit.tick);
    const fixed = known === null ? null : this.#heldBy(known, hit.tick);
    const id = does === 'alter' && fixed !== null ? (this.#ribbon.placedAt(hit.tick)?.id ?? null) : null;
    this.#drag = { fixed: fixed ?? beat, does, id, moved: false };
  }

  move(event: PointerEvent): void {
    if (this.#strike !== null) {
      this.#dragHit(event, this.#strike.id);
      return;
    }
    const drag = this.#drag;
    const hit = drag && this.#surface.at(event);
    const beat = hit && this.#beat(hit.tick);
    if (drag === null || beat === null) return;
    if (!drag.moved && beat.start === drag.fixed.start) return;
    drag.moved = true;
    this.#ribbon.drag = { does: drag.does, stretch: between(drag.fixed, beat) };
  }

  up(event: PointerEvent): void {
    if (this.#strike !== null) {
      this.#dropHit(event, this.#strike.id);
      return;
    }
    const drag = this.#drag;
    const stretch = this.#ribbon.drag?.stretch;
    this.cancel();
    if (drag === null) return;
    if (!drag.moved || stretch === undefined) this.#tap(event, drag.does);
    else if (drag.does === 'loop') this.#session.setLoop(stretch);
    else if (drag.id !== null) this.#resize(drag.id, stretch);
    else this.#place(stretch);
  }

  cancel(): void {
    this.#drag = null;
    this.#strike = null;
    this.#ribbon.hits.dragged = null;
    this.#ribbon.drag = null;
  }

  /** A press on a chord or a scale; also what assistive technology sends to any beat. */
  click(event: MouseEvent): void {
    if (!isBeat(event.target)) return;
    const hit = this.#surface.at(event);
    const bySpeech = event.detail === 0;
    if (!bySpeech && hit?.row === 'scales') {
      this.#ribbon.reach(this.#beat(hit.tick)?.start ?? ticks(0));
      this.#ribbon.chooseScale(ticks(Math.floor(hit.tick)));
      return;
    }
    if (!bySpeech && hit?.row !== 'chords') return;
    const tick = bySpeech ? Number((event.target as HTMLElement).dataset['tick']) : hit!.tick;
    this.#ribbon.reach(this.#beat(tick)?.start ?? ticks(0));
    this.#ribbon.edit(this.chordAt(tick));
  }

  /** The beat that a mouse points to; null for a finger, which points where it taps. */
  over(event: PointerEvent): Ticks | null {
    if (event.pointerType !== 'mouse' || !isBeat(event.target)) return null;
    return ticks(Number((event.target as HTMLElement).dataset['tick']));
  }

  /** The chord written at a tick. */
  chordAt(tick: number): ChordView {
    const { form, sources } = this.#session;
    const index = indexAt(form.bars, tick);
    const { chords } = barView(sources, form.bars[index]!, index);
    return chords.findLast(({ start }) => start <= tick) ?? chords[0]!;
  }

  /** The place of the grid under a pointer in the row of hits. */
  #hitPlace(event: PointerEvent): Ticks | null {
    const hit = this.#surface.at(event);
    const beat = hit && this.#beat(hit.tick);
    return beat && this.#ribbon.hits.nearest(hit.tick, this.#surface.px(beat.length));
  }

  #dragHit(event: PointerEvent, id: string | null) {
    const to = this.#hitPlace(event);
    if (id === null || to === null) return;
    const from = this.#ribbon.hits.shown().find(({ hit }) => hit.id === id)?.tick;
    if (this.#ribbon.hits.dragged !== null || from !== to) this.#ribbon.hits.dragged = { id, to };
  }

  #dropHit(event: PointerEvent, id: string | null) {
    const { hits } = this.#ribbon;
    const moved = hits.dragged?.to ?? null;
    const place = this.#hitPlace(event);
    this.cancel();
    if (place === null) return;
    this.#ribbon.reach(this.#beat(place)?.start ?? ticks(0));
    if (moved !== null && id !== null) hits.move(id, moved);
    else if (id === null) hits.place(place);
    else {
      this.#ribbon.close();
      hits.open = hits.shown().find(({ hit }) => hit.id === id)?.hit ?? null;
    }
  }

  #tap(event: PointerEvent, does: 'alter' | 'loop') {
    const hit = this.#surface.at(event);
    const beat = hit && this.#beat(hit.tick);
    if (hit === null || beat === null) return;
    this.#ribbon.reach(beat.start);
    if (does === 'loop') {
      const { start, bar } = this.#session.form.bars[beat.bar]!;
      this.#ribbon.loopBar({ from: start, to: ticks(start + bar.length) });
      return;
    }
    const known = this.#ribbon.placedAt(hit.tick);
    if (known !== null) this.#ribbon.open(known);
    else {
      const chord = this.chordAt(hit.tick);
      this.#place({ from: chord.start, to: ticks(chord.start + chord.length) });
    }
  }

  #place(stretch: Stretch) {
    this.#ribbon.reach(stretch.from);
    this.#ribbon.alter(stretch);
  }

  #resize(id: string, stretch: Stretch) {
    const { bars } = this.#session.form;
    const first = bars[indexAt(bars, stretch.from)]!;
    this.#session.changePlaced(id, {
      bar: first.bar.index,
      at: ticks(stretch.from - first.start),
      length: ticks(stretch.to - stretch.from),
    });
  }

  #placedStretch(tick: number): Stretch | null {
    const known = this.#ribbon.placedAt(tick);
    const bar =
      known &&
      this.#session.form.bars.findLast(
        (item) => item.bar.index === known.bar && item.start + known.at <= tick,
      );
    if (known === null || bar == null) return null;
    return { from: ticks(bar.start + known.at), to: ticks(bar.start + known.at + known.length) };
  }

  /** The beat at the other end, when `tick` lies at one end of `stretch`; null when it lies elsewhere. */
  #heldBy(stretch: Stretch, tick: number): Beat | null {
    if (Math.abs(this.#surface.px(tick - stretch.from)) < GRIP) return this.#beat(stretch.to - 1);
    if (Math.abs(this.#surface.px(tick - stretch.to)) < GRIP) return this.#beat(stretch.from);
    return null;
  }

  #beat(tick: number): Beat | null {
    return beatAt(this.#session.form.bars, tick);
  }
}

const isBeat = (target: EventTarget | null) =>
  target instanceof HTMLElement && target.dataset['tick'] !== undefined;
