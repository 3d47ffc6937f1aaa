import type { Span } from '../harmony/index.ts';
import { ticks, type Ticks } from '../units/index.ts';
import type { BarGrid, Pulse } from './pulses.ts';
import { startsOf, swung } from './rhythm.ts';
import type { Style } from './style.ts';
import { isOpen } from './trade.ts';
import type { PlacedHit, RoundPlan } from './types.ts';

/** A written hit in its place in the round. */
export interface Kick {
  /** As it sounds, swung. */
  readonly at: Ticks;
  /** As it is written. */
  readonly nominal: Ticks;
  /** Index of the bar and, in it, of the pulse it lies in. */
  readonly bar: number;
  readonly pulse: number;
  /** Length of that pulse. */
  readonly unit: Ticks;
  /** Index of the span it sounds; the number of spans for the first of the next round. */
  readonly span: number;
  /** It sounds the chord that comes, an off-beat early. */
  readonly pushed: boolean;
  readonly accent: PlacedHit['accent'];
  readonly length: PlacedHit['length'];
  readonly by: PlacedHit['by'];
}

/** The written hits of a round, in order, and the bars in which stop time is kept. */
export interface Kicks {
  readonly list: readonly Kick[];
  /** Those of the first bar of the round that follows, for what leads up to them. */
  readonly coming: readonly Kick[];
  /** Bars in which the comping hand, or the whole band, plays nothing else. */
  readonly compStops: ReadonlySet<number>;
  readonly bandStops: ReadonlySet<number>;
}

const NONE: Kicks = { list: [], coming: [], compStops: new Set(), bandStops: new Set() };

/**
 * The hits written into the bars of a round. A hit off the beat hard before a change sounds the chord
 * that comes, as every push does (common practice). In bars left to the player there are none.
 */
export function kicksOf(plan: RoundPlan, { grid, offbeat }: Style): Kicks {
  const { hits = [], changes, ending } = plan;
  if (hits.length === 0) return NONE;
  const next = plan.next === null ? [] : [{ ...plan.next, start: ticks(changes.length + plan.next.start) }];
  const spans = [...changes.spans, ...next];
  const starts = startsOf(spans, grid, offbeat);
  const inBar = (bar: BarGrid): readonly PlacedHit[] =>
    isOpen(plan, bar.index) ? [] : hits.filter((hit) => isIn(hit, bar));
  const kicksIn = (bar: BarGrid) =>
    inBar(bar).map((hit): Kick => {
      const nominal = ticks(bar.bar.start - bar.bar.skipped + hit.at);
      const at = swung(grid, nominal, offbeat);
      const index = Math.max(
        0,
        bar.pulses.findLastIndex((pulse) => pulse.at <= nominal),
      );
      const pulse = bar.pulses[index]!;
      const current = Math.max(
        0,
        starts.findLastIndex((start, i) => start <= at && i < changes.spans.length),
      );
      const coming = spans[current + 1];
      const last = ending === true && current + 1 >= changes.spans.length;
      // With no time left to sound the chord that goes, it sounds the one that comes.
      const hard = coming?.chord != null && starts[current + 1]! - at < pulse.length / 8;
      const pushed = !last && (hard || leads(nominal, pulse, coming));
      const { accent, length, by } = hit;
      const span = pushed ? current + 1 : current;
      return {
        at,
        nominal,
        bar: bar.index,
        pulse: index,
        unit: pulse.length,
        span,
        pushed,
        accent,
        length,
        by,
      };
    });
  const list = alone(grid.flatMap(kicksIn));
  const first = grid[0];
  const coming =
    ending === true || first === undefined || isOpen(plan, grid.length)
      ? []
      : alone(kicksIn(first)).map((kick) => ({
          ...kick,
          at: ticks(kick.at + changes.length),
          nominal: ticks(kick.nominal + changes.length),
        }));
  const stops = (by: (hit: PlacedHit) => boolean) =>
    new Set(grid.filter((bar) => inBar(bar).some((hit) => hit.stop && by(hit))).map(({ index }) => index));
  return { list, coming, compStops: stops(() => true), bandStops: stops(({ by }) => by === 'band') };
}

/** Whether a hit lies in a bar as played. */
function isIn(hit: PlacedHit, { bar }: BarGrid): boolean {
  const at = hit.at - bar.skipped;
  return hit.bar === bar.written && at >= 0 && at < bar.length;
}

/** Whether a place in the second half of a pulse leads into the chord that begins with the next. */
function leads(nominal: Ticks, pulse: Pulse, coming: Span | undefined): boolean {
  if (coming === undefined || coming.chord === null || coming.treatment?.origin === 'live') return false;
  return nominal - pulse.at >= pulse.length / 2 && coming.start === pulse.at + pulse.length;
}

const rank = ({ by }: Kick): number => (by === 'band' ? 0 : 1);

/** In order, one at a place: all rather than the comping hand alone. */
function alone(kicks: readonly Kick[]): readonly Kick[] {
  const sorted = [...kicks].sort((a, b) => a.nominal - b.nominal || rank(a) - rank(b));
  return sorted.filter((kick, index) => sorted[index - 1]?.nominal !== kick.nominal);
}

/**
 * Room around a hit in which the rhythm of the feel gives way, in beats: most of a beat before, and
 * after a long hit until it has been heard. Our choice, because a hit is only heard in the clear.
 */
const ROOM = { before: 0.75, short: 0.6, long: 1.1 } as const;

/** Whether a place lies clear of all hits. */
export function isClear(nominal: Ticks, kicks: readonly Kick[], before: number = ROOM.before): boolean {
  return kicks.every((kick) => {
    const away = (nominal - kick.nominal) / kick.unit;
    return away <= -before || away >= ROOM[kick.length];
  });
}
