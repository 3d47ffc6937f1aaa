import { ticks, type PlacedHit, type Ticks } from '../../engine/index.ts';
import type { Session } from '../session.svelte.ts';
import { gridOf, nearestPlace, offBeat, placeWords, stepPlace } from './hit-grid.ts';
import { beatAt, indexAt } from './layout.ts';

/** The kinds of hits, by the sign that stands over them. */
export const HIT_KINDS = [
  { accent: 'strong', length: 'short', text: 'Short, strong' },
  { accent: 'strong', length: 'long', text: 'Long, strong' },
  { accent: 'light', length: 'short', text: 'Short, light' },
  { accent: 'light', length: 'long', text: 'Long, light' },
] as const;

type Manner = Pick<PlacedHit, 'accent' | 'length' | 'by'>;

/** How near a press takes a hit, px. */
const GRASP = 16;

/** The hits of a chart at work: placed, moved, changed and taken away. Ticks of the form. */
export class Hits {
  /** The hit whose tray is open. */
  open: PlacedHit | null = $state.raw(null);
  /** Where the hit that is being dragged would come to stand. */
  dragged: { readonly id: string; readonly to: Ticks } | null = $state.raw(null);

  readonly #session: Session;
  /** How the last one was played; the next is as well. */
  #manner: Manner = { accent: 'strong', length: 'short', by: 'band' };

  constructor(session: Session) {
    this.#session = session;
  }

  /** A press of the key: places a hit on the beat at `tick`, or off it, or opens the one there. */
  press(tick: Ticks, off: boolean): void {
    const { bars } = this.#session.form;
    const beat = beatAt(bars, tick);
    if (beat === null) return;
    const place = off ? offBeat(beat, bars, this.#feel) : beat.start;
    const known = this.#at(place);
    if (known === null) this.place(place);
    else this.open = known;
  }

  /** Places a hit, at every pass of its written bar. */
  place(tick: Ticks): void {
    const session = this.#session;
    const { bars } = session.form;
    const bar = bars[indexAt(bars, tick)];
    if (bar === undefined) return;
    const at = ticks(tick - bar.start);
    const hit: PlacedHit = { id: newId(this.#list), bar: bar.bar.index, at, ...this.#manner, stop: false };
    session.setHits([...this.#list, hit], 'Hit');
    session.say(
      `Hit on ${placeWords(tick, bars)} of bar ${bar.bar.index + 1}. Select it again to change it.`,
      true,
    );
  }

  /** The hit near a tick, where a press `px` to the beat would take it. */
  near(tick: number, unit: number, px: number): PlacedHit | null {
    const reach = (GRASP / px) * unit;
    const found = this.shown()
      .filter((hit) => Math.abs(hit.tick - tick) < reach)
      .sort((a, b) => Math.abs(a.tick - tick) - Math.abs(b.tick - tick));
    return found[0]?.hit ?? null;
  }

  /** Every hit at every pass of its bar. */
  shown(): readonly { readonly hit: PlacedHit; readonly tick: Ticks }[] {
    return this.#session.form.bars.flatMap(({ bar, start }) =>
      this.#list
        .filter((hit) => hit.bar === bar.index && hit.at < bar.length)
        .map((hit) => ({ hit, tick: ticks(start + hit.at) })),
    );
  }

  /** The place a press at a tick means. */
  nearest(tick: number, px: number): Ticks | null {
    return nearestPlace(tick, this.#session.form.bars, this.#feel, px);
  }

  /** Moves a hit one step of the grid along its bar. */
  step(hit: PlacedHit, by: 1 | -1): void {
    const { bars } = this.#session.form;
    const bar = bars.find((each) => each.bar.index === hit.bar);
    if (bar === undefined) return;
    const to = stepPlace(ticks(bar.start + hit.at), by, bars, this.#feel);
    this.change(hit.id, { at: ticks(to - bar.start) });
  }

  /** Moves a hit to a place of the form, within its bar or into another. */
  move(id: string, to: Ticks): void {
    const { bars } = this.#session.form;
    const bar = bars[indexAt(bars, to)];
    if (bar !== undefined) this.change(id, { bar: bar.bar.index, at: ticks(to - bar.start) });
  }

  change(id: string, change: Partial<PlacedHit>): void {
    const changed = this.#list.map((hit) => (hit.id === id ? { ...hit, ...change } : hit));
    const hit = changed.find((each) => each.id === id);
    if (hit === undefined) return;
    const { accent, length, by } = hit;
    this.#manner = { accent, length, by };
    // Two at one place are one.
    const apart = changed.filter((each) => each.id === id || each.bar !== hit.bar || each.at !== hit.at);
    this.#session.setHits(apart, 'Change of hit');
  }

  /** Stop time in a bar: nothing but its hits is played, or the band plays on between them. */
  setStop(bar: number, stop: boolean): void {
    const changed = this.#list.map((hit) => (hit.bar === bar ? { ...hit, stop } : hit));
    this.#session.setHits(changed, stop ? 'Stop time' : 'Stop time off');
  }

  remove(id: string): void {
    this.#session.setHits(
      this.#list.filter((hit) => hit.id !== id),
      'Removal of hit',
    );
    this.#session.say('Hit removed.', true);
    if (this.open?.id === id) this.open = null;
  }

  /** Takes the hits in the beat at a tick away; false when there are none. */
  removeIn(tick: Ticks): boolean {
    const beat = beatAt(this.#session.form.bars, tick);
    const there = this.shown().filter(
      (each) => beat !== null && each.tick >= beat.start && each.tick < beat.start + beat.length,
    );
    if (there.length === 0) return false;
    const ids = there.map(({ hit }) => hit.id);
    this.#session.setHits(
      this.#list.filter(({ id }) => !ids.includes(id)),
      'Removal of hit',
    );
    this.#session.say(ids.length === 1 ? 'Hit removed.' : 'Hits removed.', true);
    return true;
  }

  /** How many places a hit of a bar can stand at before and after where it stands. */
  canStep(hit: PlacedHit): { readonly less: boolean; readonly more: boolean } {
    const { bars } = this.#session.form;
    const bar = bars.find((each) => each.bar.index === hit.bar);
    if (bar === undefined) return { less: false, more: false };
    const last = beatAt(bars, bar.start + bar.bar.length - 1);
    const end = last === null ? bar.start : gridOf(last, bars, this.#feel).at(-1)!;
    return { less: hit.at > 0, more: bar.start + hit.at < end };
  }

  get #list(): readonly PlacedHit[] {
    return this.#session.project.hits;
  }

  get #feel(): string {
    return this.#session.settings.feel;
  }

  #at(tick: Ticks): PlacedHit | null {
    return this.shown().find((each) => each.tick === tick)?.hit ?? null;
  }
}

function newId(hits: readonly PlacedHit[]): string {
  let number = hits.length + 1;
  while (hits.some(({ id }) => id === `h${number}`)) number++;
  return `h${number}`;
}
