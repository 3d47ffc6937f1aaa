import type { PlacedHit, Sign } from '../../../engine/index.ts';
import { isStopTime, type Bracket, type Row } from './rows.ts';

/** Lengths in px. A row's lanes from the top down; those without anything in them take no room. */
const LANES = { head: 18, ending: 15, coloured: 17, hits: 13 } as const;
export const BODY = 36;
const FOOT = 13;
export const BETWEEN_ROWS = 7;

/** How wide a word is in a bracket, px: a letter of the text face takes about half its height. */
export const wordWidth = (word: string): number => [...word].length * 5.6 + 6;
export const fitsIn = ({ word, x1, x2 }: Bracket): boolean => wordWidth(word) + 14 < x2 - x1;

/** Where the lanes of a row lie from its top; null for one that is empty. */
export interface Lanes {
  readonly head: number | null;
  readonly ending: number | null;
  readonly coloured: number | null;
  readonly hits: number | null;
  readonly body: number;
  readonly foot: number;
  readonly height: number;
}

export function lanesOf({ bars, coloured, hits }: Row, all: readonly PlacedHit[]): Lanes {
  let y = 0;
  const lane = (height: number, isWanted: boolean): number | null => {
    if (!isWanted) return null;
    y += height;
    return y - height;
  };
  const head = lane(
    LANES.head,
    bars.some(({ bar }) => bar.mark !== null || bar.note !== null || bar.signs.length > 0),
  );
  const ending = lane(
    LANES.ending,
    bars.some((bar) => bar.ending !== null),
  );
  const stops = bars.some(({ bar }) => isStopTime(bar, all));
  // A word that is longer than its bracket stands above it.
  const roomy = coloured.some((bracket) => bracket.opens && !fitsIn(bracket)) ? 11 : 0;
  const colour = lane(LANES.coloured + roomy, coloured.length > 0);
  const hitLane = lane(LANES.hits, hits.length > 0 || stops);
  return {
    head,
    ending,
    coloured: colour === null ? null : colour + roomy,
    hits: hitLane,
    body: y,
    foot: y + BODY,
    height: y + BODY + FOOT,
  };
}

/** Signs of a road map in words: where one leaves they are printed so. Common practice. */
export const SIGN_WORDS: Readonly<Record<Sign, string>> = {
  segno: 'Segno',
  coda: 'Coda',
  'to-coda': 'To Coda',
  fine: 'Fine',
  dc: 'D.C.',
  ds: 'D.S.',
  'dc-al-fine': 'D.C. al Fine',
  'dc-al-coda': 'D.C. al Coda',
  'ds-al-fine': 'D.S. al Fine',
  'ds-al-coda': 'D.S. al Coda',
};
