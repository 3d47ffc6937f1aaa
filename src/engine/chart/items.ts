import { groupBars, type Item } from './bars.ts';
import { SILENT } from './problems.ts';
import { tokenize } from './tokens.ts';
import type { Bar, Chart } from './types.ts';

/** What takes up time in a written bar, with offsets in the chart's text. */
export function itemsOf({ text }: Pick<Chart, 'text'>, bar: Bar): Item[] {
  const slice = text.slice(bar.from, bar.to);
  const raw = groupBars(slice, tokenize(slice), SILENT)[0];
  return (raw?.items ?? []).map((item) => ({ ...item, from: item.from + bar.from, to: item.to + bar.from }));
}

/** True for the second of the two bars that one two-bar simile mark stands for. */
export function isSecondHalf({ bars }: Pick<Chart, 'bars'>, index: number): boolean {
  const bar = bars[index];
  const before = bars[index - 1];
  return bar?.simile === 2 && before?.simile === 2 && before.from === bar.from;
}
