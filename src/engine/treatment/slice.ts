import type { Changes, PlayedBar, Span } from '../harmony/index.ts';
import { ticks, type Ticks } from '../units/index.ts';

/**
 * Index of the entry of `line` that holds tick `at`, or -1 outside. Works for spans and for bars.
 * @param line entries that follow each other without gap, in order
 */
export function indexAt(
  line: readonly { readonly start: Ticks; readonly length: Ticks }[],
  at: number,
): number {
  let low = 0;
  let high = line.length - 1;
  while (low <= high) {
    const middle = (low + high) >> 1;
    const { start, length } = line[middle]!;
    if (at < start) high = middle - 1;
    else if (at >= start + length) low = middle + 1;
    else return middle;
  }
  return -1;
}

/** The span that sounds at tick `at`; null outside the changes. */
export function spanAt(changes: Changes, at: number): Span | null {
  return changes.spans[indexAt(changes.spans, at)] ?? null;
}

/**
 * The stretch from tick `from` to tick `to` as changes of their own, beginning at tick 0.
 * @throws RangeError unless 0 ≤ from < to ≤ the length of `changes`
 */
export function sliceChanges(changes: Changes, from: Ticks, to: Ticks): Changes {
  if (!(from >= 0 && from < to && to <= changes.length)) {
    throw new RangeError(`a stretch lies within 0 to ${changes.length} ticks, not from ${from} to ${to}`);
  }
  if (from === 0 && to === changes.length) return changes;
  const cut = <T extends { readonly start: Ticks; readonly length: Ticks }>(entry: T): T => {
    const start = Math.max(entry.start, from);
    const end = Math.min(entry.start + entry.length, to);
    return { ...entry, start: ticks(start - from), length: ticks(end - start) };
  };
  const within = (line: readonly { readonly start: Ticks; readonly length: Ticks }[]) =>
    [indexAt(line, from), indexAt(line, to - 1) + 1] as const;
  const [firstBar, endBar] = within(changes.bars);
  const [firstSpan, endSpan] = within(changes.spans);
  return {
    length: ticks(to - from),
    bars: changes.bars
      .slice(firstBar, endBar)
      .map((bar) => ({ ...cut(bar), skipped: ticks(bar.skipped + Math.max(0, from - bar.start)) })),
    spans: changes.spans
      .slice(firstSpan, endSpan)
      .map((span) => ({ ...cut(span), bar: Math.max(0, span.bar - firstBar) })),
  };
}

/** Several changes one after the other, as one. */
export function joinChanges(parts: readonly Changes[]): Changes {
  const bars: PlayedBar[] = [];
  const spans: Span[] = [];
  let at = 0;
  for (const part of parts) {
    const firstBar = bars.length;
    for (const bar of part.bars) bars.push({ ...bar, start: ticks(at + bar.start) });
    for (const span of part.spans) {
      spans.push({ ...span, start: ticks(at + span.start), bar: firstBar + span.bar });
    }
    at += part.length;
  }
  return { length: ticks(at), bars, spans };
}
