import type { FormBar } from '../../engine/index.ts';
import { fitSymbol } from '../chord/symbol.ts';
import { breakLines, type Layout } from './layout.ts';
import type { Shown } from './view.ts';

/** The measures of the ribbon's lines, px. All lines are alike, so any line's place is known unseen. */
export interface Metrics {
  /** Width of a full line. */
  readonly width: number;
  /** From the top of one line to the top of the next. */
  readonly pitch: number;
  /** Height of a line without the space after it. */
  readonly height: number;
  /** Size of chord symbols. */
  readonly chord: number;
  /** Size of the notes in the scale lane; 0 where only the scales' names stand. */
  readonly note: number;
  /** The smallest they may be; where there is no room for that, only the scale's name stands. */
  readonly small: number;
  /** Tops and heights of the rows: hits, where they are shown, then bar numbers down to the rail. */
  readonly headTop: number;
  readonly rail: number;
  readonly chordTop: number;
  readonly chordHeight: number;
  /** The row under the chords that says what they do; no height where it is not shown. */
  readonly functionTop: number;
  readonly functionHeight: number;
  readonly laneTop: number;
  readonly laneHeight: number;
  readonly scaleTop: number;
  readonly scaleHeight: number;
  /** The row that says which notes move where; no height where it is not shown. */
  readonly targetTop: number;
  readonly targetHeight: number;
  /** The row of the notes of a take; no height where there is none. */
  readonly takeTop: number;
  readonly takeHeight: number;
}

/** What the width of a chord's beats is more than the room of its symbol, px. */
export const SYMBOL_MARGIN = 14;
/** The smallest size a chord symbol is read at in passing, rem. Our choice: a little over the finest type. */
const LEAST_SYMBOL = 0.9;

/** How many bars of the usual length can be read in a line of `width` px, each chord of them, too. */
function mostBars(bars: readonly FormBar[], width: number, rem: number): number {
  let most = width >= 44 * rem ? 4 : width >= 19 * rem ? 2 : 1;
  if (most === 1) return most;
  const shortest = new Map<string, number>();
  for (const { chord, length } of bars.flatMap(({ bar }) => bar.slots)) {
    if (chord !== null) shortest.set(chord.text, Math.min(length, shortest.get(chord.text) ?? Infinity));
  }
  const least = LEAST_SYMBOL * rem;
  const hasRoomForAll = (barsPerLine: number) => {
    const { capacity } = breakLines(bars, barsPerLine);
    return [...shortest].every(([text, length]) => {
      return fitSymbol(text, (length / capacity) * width - SYMBOL_MARGIN, least).size === least;
    });
  };
  while (most > 1 && !hasRoomForAll(most)) most /= 2;
  return most;
}

/** The form broken into lines, and their measures. */
export interface Fitted {
  readonly layout: Layout;
  readonly metrics: Metrics;
  /** The lanes there is room for. */
  readonly show: Shown;
}

/**
 * Breaks the form for a ribbon of `width` by `height` px: as large as it can be seen at once, else with
 * as many bars in a line as can be read.
 * @param rem px of a root em, so that enlarged text finds its room
 * @param whole whether a line has to be seen from its top to its bottom: lanes are left out until it is
 */
export function fit(
  bars: readonly FormBar[],
  width: number,
  height: number,
  rem: number,
  show: Shown,
  whole = false,
): Fitted {
  const most = mostBars(bars, width, rem);
  const slots = usualSlots(bars);
  const fitted = (count: number, scale: number, lanes = show): Fitted => {
    const perLine = Math.min(count, Math.max(1, bars.length));
    const metrics = measure(width, perLine, slots, rem, scale, lanes);
    return { layout: breakLines(bars, count), metrics, show: lanes };
  };
  let best: Fitted | null = null;
  for (const count of [1, 2, 4]) {
    if (count > most || bars.length > count * 4) continue;
    for (const scale of [1, 0.85, 0.7, 0.6]) {
      const seen = fitted(count, scale);
      const fits = seen.layout.lines.length * seen.metrics.pitch <= height;
      if (fits && seen.metrics.chord > (best?.metrics.chord ?? 0)) best = seen;
    }
  }
  const usual = best ?? fitted(most, 0.85);
  const isSeen = ({ metrics }: Fitted) => metrics.height <= height;
  if (!whole || isSeen(usual)) return usual;
  // What is left out first: what the stage says as well, then what was asked for.
  const names: Shown = { ...show, scales: 'names' };
  const none: Shown = { ...show, scales: 'none' };
  const plain: Shown = { ...none, targets: false };
  const bare: Shown = { ...plain, functions: false };
  return (
    [
      fitted(most, 0.7, names),
      fitted(most, 0.7, none),
      fitted(most, 0.7, plain),
      fitted(most, 0.35, bare),
    ].find(isSeen) ?? usual
  );
}

/** How many chords a bar holds: as many as in all but the fullest bars. */
function usualSlots(bars: readonly FormBar[]): number {
  const counts = bars.map(({ bar }) => (bar.simile > 0 ? 1 : bar.slots.length)).sort((a, b) => a - b);
  return Math.max(1, counts[Math.floor(counts.length * 0.85)] ?? 1);
}

/** The measures for lines of `width` px that hold so many usual bars, with type at `scale` of its size. */
function measure(
  width: number,
  bars: number,
  slots: number,
  rem: number,
  scale: number,
  show: Shown,
): Metrics {
  const barWidth = width / bars;
  const chord = Math.round(Math.max(1.5 * rem, Math.min(3.9 * rem, (barWidth / slots) * 0.34) * scale));
  const { scales = 'notes' } = show;
  const note =
    scales === 'notes' ? Math.max(0.8 * rem, Math.min(1.5 * rem, barWidth / slots / 16) * scale) : 0;
  const headTop = show.hits ? Math.round(1.6 * rem) : 0;
  const rail = headTop + Math.round(1.6 * rem);
  const chordTop = rail + Math.round(0.5 * rem);
  const chordHeight = Math.round(chord * 1.25);
  const functionTop = chordTop + chordHeight;
  const functionHeight = show.functions ? Math.round(1.35 * rem) : 0;
  const laneTop = functionTop + functionHeight + Math.round(0.35 * rem);
  const laneHeight = Math.round(2 * rem);
  const scaleTop = laneTop + laneHeight;
  const scaleHeight = scales === 'none' ? 0 : Math.round((scales === 'names' ? 2.5 : 2) * rem + 2.85 * note);
  const targetTop = scaleTop + scaleHeight;
  const targetHeight = show.targets ? Math.round(2.5 * rem) : 0;
  const takeTop = targetTop + targetHeight;
  const takeHeight = show.take === true ? Math.round(2 * rem) : 0;
  const height = takeTop + takeHeight;
  return {
    width,
    pitch: height + Math.round(0.9 * rem),
    height,
    chord,
    note,
    small: 0.78 * rem,
    headTop,
    rail,
    chordTop,
    chordHeight,
    functionTop,
    functionHeight,
    laneTop,
    laneHeight,
    scaleTop,
    scaleHeight,
    targetTop,
    targetHeight,
    takeTop,
    takeHeight,
  };
}
