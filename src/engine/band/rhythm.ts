import type { Span } from '../harmony/index.ts';
import { randomFor, ticks, type Random, type Ticks } from '../units/index.ts';
import type { Cell, CellTable } from './feel.ts';
import { feltTempo } from './felt.ts';
import { placeOf, type Hit } from './notation.ts';
import type { BarGrid, Pulse } from './pulses.ts';
import type { BandSettings, RoundPlan } from './types.ts';

/** A run of pulses in a bar that one cell fills: where it begins and how many there are. */
export interface Tile {
  readonly first: number;
  readonly size: number;
}

/** A hit in its place in the round. */
export interface Stroke {
  /** As it sounds, swung. */
  readonly at: Ticks;
  /** As it is written: the off-beat in the middle of its beat. Chords change by this. */
  readonly nominal: Ticks;
  /** Index of the bar, and of the pulse in it. */
  readonly bar: number;
  readonly pulse: number;
  readonly hit: Hit;
  readonly cell: Cell;
}

/** A chosen cell in its tile. */
export interface Chosen {
  readonly tile: Tile;
  readonly cell: Cell;
}

/**
 * How cells of `table` cover a bar: one for the whole bar where there is one of its size, else one for
 * each group of beats. A group without cells takes a larger one cut short, or several smaller ones.
 */
export function tilesOf(bar: BarGrid, table: CellTable): readonly Tile[] {
  const count = bar.pulses.length;
  if (table.size === 0 || count === 0) return [];
  if (table.has(count)) return [{ first: 0, size: count }];
  const tiles: Tile[] = [];
  let first = 0;
  for (const group of bar.groups) {
    const largest = Math.max(...[...table.keys()].filter((size) => size <= group), 0);
    const step = table.has(group) || largest === 0 ? group : largest;
    for (let at = 0; at < group; at += step) {
      tiles.push({ first: first + at, size: Math.min(step, group - at) });
    }
    first += group;
  }
  return tiles;
}

/**
 * The cells that can fill a tile: those of its size, else of the next larger size, to be cut short.
 * @param place which bar of a two-bar phrase it is
 */
export function cellsFor(
  tile: Tile,
  table: CellTable,
  settings: BandSettings,
  place: 'first' | 'second',
): readonly Cell[] {
  const sizes = [...table.keys()].filter((size) => size >= tile.size).sort((a, b) => a - b);
  const cells = sizes.length === 0 ? [] : (table.get(sizes[0]!) ?? []);
  return cells.filter(
    (cell) =>
      within(feltTempo(settings), cell.tempo) &&
      within(settings.intensity, cell.intensity) &&
      (cell.place ?? place) === place,
  );
}

/** Which bar of a two-bar phrase a bar is, counted on through the rounds. */
export function placeInPhrase(bar: BarGrid, bars: number, round: number): 'first' | 'second' {
  return (round * bars + bar.index) % 2 === 0 ? 'first' : 'second';
}

/** True when `value` lies in the closed range. */
export function within(value: number, [low, high]: readonly [number, number]): boolean {
  return value >= low && value <= high;
}

/**
 * The generator a bar's cell is drawn with: the bar's own, or, where the figure is held, one that it
 * shares with the bars beside it in a group of four.
 * @param hold chance that the figure is held
 */
export function figureRandom(
  { settings, round }: RoundPlan,
  bar: BarGrid,
  name: string,
  hold: number,
): Random {
  const held = hold > 0 && randomFor(settings.seed, name, round, bar.index, 'hold').chance(hold);
  const place = held ? `bars ${Math.floor(bar.index / 4)}` : bar.index;
  return randomFor(settings.seed, name, round, place, 'cell');
}

/** Picks a cell by its weight times `liking`; null when nothing can be picked. */
export function pickCell(
  random: Random,
  cells: readonly Cell[],
  liking: (cell: Cell) => number = () => 1,
): Cell | null {
  const weight = (cell: Cell) => cell.weight * liking(cell);
  return cells.some((cell) => weight(cell) > 0) ? random.pick(cells, weight) : null;
}

/** Where a hit of a rhythm falls in its pulse, as it sounds and as it is written. */
export function placeIn(pulse: Pulse, { place }: Hit, offbeat: number): Pick<Stroke, 'at' | 'nominal'> {
  const at = (fraction: number) => ticks(pulse.at + Math.round(fraction * pulse.length));
  return {
    at: at(placeOf(place, offbeat, pulse.ternary)),
    nominal: at(placeOf(place, 0.5, pulse.ternary)),
  };
}

/** The strokes of the chosen cells that lie in the bar as played. */
export function strokesOf(bar: BarGrid, chosen: readonly Chosen[], offbeat: number): readonly Stroke[] {
  const end = bar.bar.start + bar.bar.length;
  return chosen
    .flatMap(({ tile, cell }) =>
      cell.hits
        .filter((hit) => hit.pulse < tile.size)
        .map((hit): Stroke => {
          const index = tile.first + hit.pulse;
          return {
            ...placeIn(bar.pulses[index]!, hit, offbeat),
            bar: bar.index,
            pulse: index,
            hit,
            cell,
          };
        }),
    )
    .filter((stroke) => stroke.nominal >= bar.bar.start && stroke.nominal < end);
}

/** Where the bar's strokes begin, so that two cells that differ only in lengths count as one rhythm. */
export function onsetsOf(chosen: readonly Chosen[]): string {
  return chosen
    .flatMap(({ tile, cell }) =>
      cell.hits.filter((h) => h.pulse < tile.size).map((h) => `${tile.first + h.pulse}${h.place}`),
    )
    .join(' ');
}

/** Hits per pulse. */
export function busyness(chosen: readonly Chosen[]): number {
  const hits = chosen.reduce((sum, { cell }) => sum + cell.hits.length, 0);
  const pulses = chosen.reduce((sum, { tile }) => sum + tile.size, 0);
  return pulses === 0 ? 0 : hits / pulses;
}

/**
 * Where a place on the beat line sounds: the exact middle of a pulse of two is swung, everything else
 * stays. For chords that change on an off-beat.
 */
export function swung(grid: readonly BarGrid[], at: Ticks, offbeat: number): Ticks {
  for (const { bar, pulses } of grid) {
    if (at < bar.start || at >= bar.start + bar.length) continue;
    for (const pulse of pulses) {
      if (!pulse.ternary && at === pulse.at + pulse.length / 2) {
        return ticks(pulse.at + Math.round(offbeat * pulse.length));
      }
    }
  }
  return at;
}

/**
 * Where spans begin to the ear: swung where they begin on an off-beat, as far as the next leaves room. What
 * is touched live begins to the tick.
 * @param spans in order; the last may belong to the next round
 */
export function startsOf(
  spans: readonly Pick<Span, 'start' | 'treatment'>[],
  grid: readonly BarGrid[],
  offbeat: number,
): readonly Ticks[] {
  return spans.map(({ start, treatment }, index) => {
    if (treatment?.origin === 'live') return start;
    const late = swung(grid, start, offbeat);
    return (spans[index + 1]?.start ?? Infinity) - late < APART ? start : late;
  });
}

/** Nothing is struck twice within this time: more than any hand is late. In ticks, a sixteenth of a quarter. */
export const APART = 1300;

/**
 * The strokes in the order they sound, without those that fall all but together with another; of two
 * such the one that is needed stays, and the later of two that are.
 */
export function apart<T extends { readonly at: Ticks }>(
  strokes: readonly T[],
  isNeeded: (stroke: T) => boolean,
): readonly T[] {
  const kept: T[] = [];
  for (const stroke of [...strokes].sort((a, b) => a.at - b.at)) {
    const last = kept[kept.length - 1];
    if (last === undefined || stroke.at - last.at >= APART) kept.push(stroke);
    else if (isNeeded(stroke)) kept[kept.length - 1] = stroke;
  }
  return kept;
}
