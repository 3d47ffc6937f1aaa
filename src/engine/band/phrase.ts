import { randomFor } from '../units/index.ts';
import { inStyle } from './comping.ts';
import { feltTempo } from './felt.ts';
import type { BarGrid } from './pulses.ts';
import { busyness, cellsFor, onsetsOf, pickCell, placeInPhrase, tilesOf, type Chosen } from './rhythm.ts';
import type { FeelIn } from './style.ts';
import type { BandSettings } from './types.ts';

/** Above this tempo a bar holds fewer chords the shorter it gets, quarter notes a minute. Our choice. */
const CALM = 180;
/** How often a bar is drawn anew to differ from the bar before. */
const TRIES = 6;

/**
 * The comping rhythm of every bar of a round, thought in phrases of two bars: the second bar answers the
 * first, sparse after busy and busy after sparse, so that the two together keep the asked density; now
 * and then a phrase takes up the opening of the one before. No bar has the rhythm of the bar before it.
 * Our choice, because that is how a comping hand leaves room.
 *
 * It depends on metres, settings, seed and round alone, not on the chords.
 */
export function phrasesOf(
  grid: readonly BarGrid[],
  feelIn: FeelIn,
  settings: BandSettings,
  round: number,
): readonly (readonly Chosen[])[] {
  const last = grid[grid.length - 1];
  if (last === undefined) return [];
  const calm = Math.min(1, Math.sqrt(CALM / feltTempo(settings)));
  const wanted = (bar: BarGrid, inRound: number) =>
    feelIn(bar, inRound).comp.busy * (0.12 + 0.55 * settings.density) * calm;
  const raw = (bar: BarGrid, inRound: number, aim: number, not: string | null) => {
    const random = randomFor(settings.seed, 'comp', inRound, bar.index, 'cell');
    const place = placeInPhrase(bar, grid.length, inRound);
    const table = feelIn(bar, inRound).comp.cells;
    const tiles = tilesOf(bar, table).map((tile) => ({
      tile,
      cells: inStyle(cellsFor(tile, table, settings, place), tile, settings.comping),
    }));
    let chosen: readonly Chosen[] = [];
    for (let tries = 0; tries < TRIES; tries++) {
      chosen = tiles.flatMap(({ tile, cells }): Chosen[] => {
        const cell = pickCell(random, cells, ({ hits }) => nearness(hits.length / tile.size, aim));
        return cell === null ? [] : [{ tile, cell }];
      });
      if (not === null || onsetsOf(chosen) !== not) break;
    }
    return chosen;
  };
  const bars: (readonly Chosen[])[] = [];
  for (const bar of grid) {
    const want = wanted(bar, round);
    const before =
      bars[bar.index - 1] ?? (round > 0 ? raw(last, round - 1, wanted(last, round - 1), null) : []);
    const opens = placeInPhrase(bar, grid.length, round) === 'first';
    const opening = bars[bar.index - 2];
    const riff =
      opens &&
      opening !== undefined &&
      grid[bar.index - 2]!.pulses.length === bar.pulses.length &&
      onsetsOf(opening) !== onsetsOf(before) &&
      randomFor(settings.seed, 'comp', round, bar.index, 'riff').chance(feelIn(bar, round).comp.riff);
    const aim = opens ? want : 2 * want - busyness(before);
    bars.push(riff ? opening : raw(bar, round, aim, bar.pulses.length > 0 ? onsetsOf(before) : null));
  }
  return bars;
}

/** How well a rhythm of `busy` hits per pulse fits where `aim` are wanted: 1 at best, never nothing. */
function nearness(busy: number, aim: number): number {
  return 0.03 + Math.exp(-(((busy - aim) / 0.22) ** 2));
}
