import { beatLength, ticks, type FormBar, type Ticks } from '../../engine/index.ts';

/** A line of the ribbon: the bars `first` to `end` (exclusive) of the form. */
export interface Line {
  readonly first: number;
  readonly end: number;
  readonly start: Ticks;
  readonly length: Ticks;
}

/** The form broken into lines. Time is width: one tick is equally wide in every line. */
export interface Layout {
  readonly lines: readonly Line[];
  /** What a full line holds, more than 0. */
  readonly capacity: Ticks;
}

/**
 * Breaks the form into lines. A line takes as many bars as fit and ends before a rehearsal mark, as
 * lead sheets do (common practice). A form shorter than a line fills it.
 * @param barsPerLine how many bars a line holds at most, at least 1
 */
export function breakLines(bars: readonly FormBar[], barsPerLine: number): Layout {
  const total = bars.reduce((sum, { bar }) => sum + bar.length, 0);
  const longest = bars.reduce((most, { bar }) => Math.max(most, bar.length), 1);
  const wanted = Math.max(longest, usualLength(bars) * barsPerLine);
  const capacity = ticks(total > 0 ? Math.min(wanted, total) : wanted);
  const lines: Line[] = [];
  let first = 0;
  let length = 0;
  const close = (end: number) => {
    if (end > first) lines.push({ first, end, start: bars[first]!.start, length: ticks(length) });
    first = end;
    length = 0;
  };
  bars.forEach(({ bar }, i) => {
    const full = length + bar.length > capacity || i - first >= barsPerLine;
    if (full || (bar.mark !== null && length > 0)) close(i);
    length += bar.length;
  });
  close(bars.length);
  return { lines, capacity };
}

/** The longest bar that is no exception: one in eight bars or more have its length. */
function usualLength(bars: readonly FormBar[]): number {
  const counts = new Map<number, number>();
  for (const { bar } of bars) counts.set(bar.length, (counts.get(bar.length) ?? 0) + 1);
  let usual = 1;
  for (const [length, count] of counts) if (count * 8 >= bars.length) usual = Math.max(usual, length);
  return usual;
}

/** A felt beat of the form. */
export interface Beat {
  /** Index of the bar in the form. */
  readonly bar: number;
  /** Counted from 0 within the bar. */
  readonly beat: number;
  readonly start: Ticks;
  readonly length: Ticks;
}

/** The felt beats of a bar of the form; the last one is shorter where the metre asks for it. */
export function beatsOfBar(bars: readonly FormBar[], index: number): Beat[] {
  const { bar, start } = bars[index]!;
  const unit = beatLength(bar.metre);
  return Array.from({ length: Math.ceil(bar.length / unit) }, (_, beat) => ({
    bar: index,
    beat,
    start: ticks(start + beat * unit),
    length: ticks(Math.min(unit, bar.length - beat * unit)),
  }));
}

/** The last item of an ascending list that starts at or before `tick`; 0 when none does. */
export function indexAt(items: readonly { readonly start: number }[], tick: number): number {
  let low = 0;
  let high = items.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (items[middle]!.start <= tick) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The beat that `tick` lies in; null when the form has no bars. */
export function beatAt(bars: readonly FormBar[], tick: number): Beat | null {
  const bar = bars[indexAt(bars, tick)];
  if (bar === undefined) return null;
  const beats = beatsOfBar(bars, indexAt(bars, tick));
  return beats[indexAt(beats, tick)] ?? null;
}

/** The beat `by` beats further on (negative: back), kept within the form. */
export function stepBeat(bars: readonly FormBar[], tick: Ticks, by: number): Beat | null {
  let beat = beatAt(bars, tick);
  for (let i = 0; i < Math.abs(by) && beat !== null; i++) {
    const next: Beat | null = beatAt(bars, by > 0 ? beat.start + beat.length : beat.start - 1);
    if (next === null || next.start === beat.start) break;
    beat = next;
  }
  return beat;
}
