import { metreName } from '../units/index.ts';
import type { Bar, Chart } from './types.ts';

/** Steps the comparison of the changed middle may take; beyond them its bars are paired in order. */
const MOST_STEPS = 1_000_000;

/**
 * Where each written bar went in an edit, so that what hangs on a bar can follow it. Bars that read the
 * same at both ends are themselves; in the changed middle the longest common row of bars is found, and
 * bars between its members are paired in order.
 * @returns from a bar's index before to its index after; null for a bar that is gone (or never was)
 */
export function carryBars(before: Chart, after: Chart): (bar: number) => number | null {
  const from = before.bars.map(signature);
  const to = after.bars.map(signature);
  let start = 0;
  while (start < from.length && start < to.length && from[start] === to[start]) start++;
  let tail = 0;
  while (
    tail < from.length - start &&
    tail < to.length - start &&
    from[from.length - 1 - tail] === to[to.length - 1 - tail]
  )
    tail++;
  const went = new Array<number | null>(from.length).fill(null);
  for (let index = 0; index < start; index++) went[index] = index;
  for (let back = 1; back <= tail; back++) went[from.length - back] = to.length - back;
  carryMiddle(from.slice(start, from.length - tail), to.slice(start, to.length - tail), (a, b) => {
    went[start + a] = start + b;
  });
  return (bar) => went[bar] ?? null;
}

/** What a bar says, in one string. */
function signature(bar: Bar): string {
  if (bar.simile > 0) return `%${bar.simile}`;
  const slots = bar.slots.map(({ chord, silence, length }) => `${chord?.text ?? silence}:${length}`);
  return `${bar.mark ?? ''}|${metreName(bar.metre)}|${slots.join(' ')}`;
}

function carryMiddle(
  from: readonly string[],
  to: readonly string[],
  pair: (a: number, b: number) => void,
): void {
  let a = 0;
  let b = 0;
  const rest = (endA: number, endB: number) => {
    while (a < endA && b < endB) pair(a++, b++);
    a = endA;
    b = endB;
  };
  for (const [nextA, nextB] of commonRow(from, to)) {
    rest(nextA, nextB);
    pair(a++, b++);
  }
  rest(from.length, to.length);
}

/** The longest common subsequence, as pairs of indices. Empty when it would take too long. */
function commonRow(from: readonly string[], to: readonly string[]): [number, number][] {
  const width = to.length + 1;
  if (from.length === 0 || to.length === 0 || from.length * to.length > MOST_STEPS) return [];
  const longest = new Uint32Array((from.length + 1) * width);
  for (let a = from.length - 1; a >= 0; a--) {
    for (let b = to.length - 1; b >= 0; b--) {
      const here = a * width + b;
      longest[here] =
        from[a] === to[b]
          ? longest[here + width + 1]! + 1
          : Math.max(longest[here + width]!, longest[here + 1]!);
    }
  }
  const row: [number, number][] = [];
  for (let a = 0, b = 0; a < from.length && b < to.length;) {
    if (from[a] === to[b]) row.push([a++, b++]);
    else if (longest[(a + 1) * width + b]! >= longest[a * width + b + 1]!) a++;
    else b++;
  }
  return row;
}
