import type { Cell } from './feel.ts';
import type { Hit } from './notation.ts';
import type { Tile } from './rhythm.ts';
import type { CompingStyle } from './types.ts';

const isOff = ({ place }: Hit): boolean => place !== '';

/** What belongs to a manner of comping, told by the rhythm itself, so that every feel has its own. */
const BELONGS: Readonly<Record<Exclude<CompingStyle, 'four'>, (cell: Cell) => boolean>> = {
  /** A chord on the beat and one off it: the Charleston, from wherever in the bar and turned round. */
  charleston: ({ hits }) => hits.length === 2 && hits.filter(isOff).length === 1,
  /** One chord or two, held. */
  pads: ({ hits }) => hits.length > 0 && hits.length <= 2 && hits.every(({ length }) => length === 'held'),
};

/**
 * The rhythms of a feel that belong to a manner of comping; all of them where it knows none. Four to the
 * bar is the same in every feel: a short chord on every beat, the weak ones stressed (common practice of
 * rhythm guitar).
 */
export function inStyle(
  cells: readonly Cell[],
  { size }: Tile,
  style: CompingStyle | undefined,
): readonly Cell[] {
  if (style === undefined) return cells;
  if (style === 'four') return fourToTheBar(size);
  const own = cells.filter(BELONGS[style]);
  return own.length > 0 ? own : cells;
}

function fourToTheBar(size: number): readonly Cell[] {
  const hits = Array.from({ length: size }, (_, pulse): Hit => ({
    pulse,
    place: '',
    length: 'short',
    weight: pulse % 2 === 1 ? 'accent' : 'plain',
    what: null,
  }));
  const last: Hit = { pulse: size - 1, place: '&', length: 'held', weight: 'plain', what: null };
  const cell = (name: string, list: readonly Hit[], weight: number): Cell => ({
    name,
    hits: list,
    weight,
    tempo: [0, 1000],
    intensity: [0, 1],
    place: null,
  });
  return [
    cell('four to the bar', hits, 8),
    cell('four to the bar, pushing on', [...hits.slice(0, -1), last], 1),
    cell('four to the bar, the last held', [...hits.slice(0, -1), { ...hits.at(-1)!, length: 'held' }], 1),
  ];
}
