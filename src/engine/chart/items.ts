import { groupBars } from './bars.ts';
import { SILENT } from './problems.ts';
import type { RawBar } from './raw-bar.ts';
import { tokenize } from './tokens.ts';
import type { Chart } from './types.ts';

/**
 * The tokens that each bar of `chart` was read from, by the bar's index. The two bars of a two-bar
 * simile mark share theirs.
 */
export function rawBars({ text }: Chart): readonly RawBar[] {
  return groupBars(text, tokenize(text), SILENT).flatMap((raw) => (raw.simile === 2 ? [raw, raw] : [raw]));
}
