import { randomFor, type Ticks } from '../units/index.ts';
import type { BarGrid } from './pulses.ts';
import { cellsFor, pickCell, placeInPhrase, strokesOf, tilesOf, type Stroke } from './rhythm.ts';
import type { Style } from './style.ts';
import type { RoundPlan } from './types.ts';

/** A drum fill at the end of a bar. */
export interface Fill {
  readonly strokes: readonly Stroke[];
  /** From here on the fill has the floor. */
  readonly begins: Ticks;
  /** So busy that the cymbal stops for it. */
  readonly dense: boolean;
  readonly level: number;
  readonly why: string;
}

/** A bar's place among the sections of the form. */
export interface Place {
  /** How many sections began before or with this bar, from 0. */
  readonly count: number;
  readonly opens: boolean;
}

/** A mark sooner after the last one begins no section: a short loop brings its mark round every time. */
const SHORT_SECTION = 4;

/** Sections begin at rehearsal marks, and the round itself is one. */
export function sectionsOf(grid: readonly BarGrid[]): readonly Place[] {
  let count = 0;
  let began = 0;
  return grid.map(({ bar, index }) => {
    const opens = index === 0 || (bar.mark !== null && index - began >= SHORT_SECTION);
    if (opens && index > 0) count++;
    if (opens) began = index;
    return { count, opens };
  });
}

/** A round shorter than this is a vamp: it is filled by the bars that went by, not at every end. */
export const SHORT_ROUND = 8;
/** Chance of a fill by what ends. Our choice: sections are shown, phrases only sometimes. */
const CHANCE = { section: 0.92, round: 0.85, phrase: 0.3 } as const;

/** The fill of every bar, or null: into new sections, into the next round, and now and then after four bars. */
export function fillsOf(plan: RoundPlan, { grid, offbeat, feelIn }: Style): readonly (Fill | null)[] {
  const { settings, round } = plan;
  const sections = sectionsOf(grid);
  return grid.map((bar): Fill | null => {
    const kind = endingOf(bar, grid, sections, round);
    if (kind === null) return null;
    const random = randomFor(settings.seed, 'drums', round, bar.index, 'fill');
    const sure = plan.ending === true && bar.index === grid.length - 1;
    if (!sure && !random.chance(CHANCE[kind] * (kind === 'phrase' ? 0.4 + settings.intensity : 1)))
      return null;
    const table = feelIn(bar, round).drums.fills;
    const tiles = tilesOf(bar, table).slice(-1);
    const chosen = tiles.flatMap((tile) => {
      const cells = cellsFor(tile, table, settings, placeInPhrase(bar, grid.length, round));
      const cell = pickCell(random, cells, (option) => (kind === 'phrase' ? 1 / option.hits.length : 1));
      return cell === null ? [] : [{ tile, cell }];
    });
    const strokes = strokesOf(bar, chosen, offbeat);
    if (strokes.length === 0) return null;
    return {
      strokes,
      begins: strokes[0]!.nominal,
      dense: strokes.length > 3,
      level: kind === 'phrase' ? 44 : 54,
      why: WHY[kind],
    };
  });
}

const WHY = {
  section: 'set-up into the next section',
  round: 'fill into the next round',
  phrase: 'fill at the end of the phrase',
} as const;

/** What ends with a bar: a section, a round (for vamps every eighth bar), a phrase of four bars, or nothing. */
function endingOf(
  bar: BarGrid,
  grid: readonly BarGrid[],
  sections: readonly Place[],
  round: number,
): keyof typeof CHANCE | null {
  const count = round * grid.length + bar.index + 1;
  const isLast = bar.index === grid.length - 1;
  if (grid.length < SHORT_ROUND) return count % 8 === 0 ? 'round' : count % 4 === 0 ? 'phrase' : null;
  if (isLast) return 'round';
  if (sections[bar.index + 1]!.opens) return 'section';
  return (bar.index + 1) % 4 === 0 ? 'phrase' : null;
}
