import { ticks, type PlacedHit, type Ticks } from '../../engine/index.ts';
import { placeWords } from './hit-grid.ts';
import type { Beat, Line } from './layout.ts';
import type { Sources } from './sources.ts';

/** A hit where it stands in the ribbon. */
export interface HitView extends Pick<PlacedHit, 'id' | 'accent' | 'length' | 'by'> {
  /** A tick of the form. */
  readonly at: Ticks;
}

/** A bar in which nothing but its hits is played. */
export interface StopView {
  readonly start: Ticks;
  readonly length: Ticks;
}

/** The hits of a line at every pass of their bars, and its bars in stop time. */
export function hitLane({ form, hits }: Sources, line: Line): { hits: HitView[]; stops: StopView[] } {
  const views: HitView[] = [];
  const stops: StopView[] = [];
  if (hits.length === 0) return { hits: views, stops };
  for (const { bar, start } of form.bars.slice(line.first, line.end)) {
    const inBar = hits.filter((hit) => hit.bar === bar.index && hit.at < bar.length);
    for (const { id, accent, length, by, at } of inBar) {
      views.push({ id, accent, length, by, at: ticks(start + at) });
    }
    if (inBar.some(({ stop }) => stop)) stops.push({ start, length: bar.length });
  }
  return { hits: views, stops };
}

/** What is said of the hits in a beat: "hit on the and of 2, short and strong". */
export function hitWords({ form, hits }: Sources, beat: Beat): string[] {
  const { bar, start } = form.bars[beat.bar]!;
  return hits
    .filter((hit) => hit.bar === bar.index)
    .map((hit) => ({ ...hit, tick: ticks(start + hit.at) }))
    .filter(({ tick }) => tick >= beat.start && tick < beat.start + beat.length)
    .sort((a, b) => a.tick - b.tick)
    .map(({ tick, accent, length, by, stop }) => {
      const who = by === 'comp' ? ', comping alone' : '';
      return `hit on ${placeWords(tick, form.bars)}, ${length} and ${accent}${who}${stop ? ', stop time' : ''}`;
    });
}
