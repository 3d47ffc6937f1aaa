import type { NeckSetting } from '../neck/index.ts';
import type { Stop } from '../units/index.ts';
import type { Stroke } from './pen.ts';
import type { Reach } from './rungs.ts';

/** What a way over the neck costs. Our choice, because a hand stays where it is as long as it can. */
const COST = {
  /** For each fret the hand moves on. */
  fret: 1,
  /** For each string beyond the next one. */
  string: 0.5,
  /** For each fret outside the position or form. */
  outside: 4,
  /** For each fret above the twelfth or, where the hand is free, up the neck: low places are easier to find. */
  high: 0.02,
};

interface Way {
  readonly stop: Stop | null;
  readonly cost: number;
  readonly before: Way | null;
}

/**
 * Where the notes lie on the neck: the cheapest way over it, with the places that are given kept. A pitch the
 * neck has not gets none.
 */
export function placed(
  strokes: readonly Stroke[],
  { tuning, capo, lastFret }: NeckSetting,
  { frets }: Reach,
): readonly (Stop | null)[] {
  let ways: readonly Way[] = [{ stop: null, cost: 0, before: null }];
  for (const { rung } of strokes) {
    const stops = rung.stop ? [rung.stop] : stopsOf(rung.pitch, tuning, capo, lastFret);
    const choices: readonly (Stop | null)[] = stops.length > 0 ? stops : [null];
    ways = choices.map((stop) => {
      const own = stop === null ? 0 : COST.high * stop.fret + COST.outside * outside(stop.fret, frets);
      let best: Way | null = null;
      for (const way of ways) {
        const cost = way.cost + own + moveCost(way, stop);
        if (best === null || cost < best.cost) best = { stop, cost, before: way };
      }
      return best!;
    });
  }
  const found: (Stop | null)[] = [];
  let way = ways.reduce((least, other) => (other.cost < least.cost ? other : least));
  for (; way.before !== null; way = way.before) found.push(way.stop);
  return found.reverse();
}

function stopsOf(pitch: number, tuning: readonly number[], capo: number, lastFret: number): readonly Stop[] {
  return tuning.flatMap((open, i) => {
    const fret = pitch - open;
    return fret >= capo && fret <= lastFret ? [{ string: tuning.length - i, fret }] : [];
  });
}

const outside = (fret: number, frets: Reach['frets']): number =>
  frets === null ? 0 : Math.max(0, frets.from - fret, fret - frets.to);

/** What it costs to go on from the last stop; an open string binds the hand to no fret. */
function moveCost(way: Way, stop: Stop | null): number {
  let last: Way | null = way;
  while (last !== null && last.stop === null) last = last.before;
  if (last === null || stop === null) return 0;
  const from = last.stop!;
  const frets = from.fret === 0 || stop.fret === 0 ? 0 : Math.abs(from.fret - stop.fret);
  return COST.fret * frets + COST.string * Math.max(0, Math.abs(from.string - stop.string) - 1);
}
