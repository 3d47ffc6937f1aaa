import { FEEL_HEADS } from './feel-heads.ts';
import { LAST_PLACE } from './last-place.ts';
import type { Swing } from './swing.ts';

/** What of a feel is known without the code that plays it. */
export interface FeelHead {
  readonly id: string;
  readonly name: string;
  readonly swing: Swing;
}

/** The names of all feels, by id, in the order a player looks for them. */
export const FEEL_NAMES: ReadonlyMap<string, FeelHead> = new Map(
  (FEEL_HEADS as readonly (FeelHead & { readonly order?: number })[])
    .toSorted((a, b) => (a.order ?? LAST_PLACE) - (b.order ?? LAST_PLACE))
    .map((head) => [head.id, head]),
);
