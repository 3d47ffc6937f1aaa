import { beatLength } from '../units/index.ts';
import { rawBars } from './items.ts';
import { slashes } from './print.ts';
import { readChart } from './read.ts';
import { tokenize } from './tokens.ts';
import type { Bar, Chart, Slot } from './types.ts';

/** A chord of a bar as it is to be typed. An empty text holds the chord before. */
export interface Unit {
  readonly text: string;
  readonly length: number;
}

/** @throws RangeError when the chart has no such bar */
export function barAt({ bars }: Chart, index: number): Bar {
  const bar = bars[index];
  if (!bar) throw new RangeError(`the chart has ${bars.length} bars, and none with index ${index}`);
  return bar;
}

/** @throws RangeError when the bar has no such slot */
export function slotAt({ slots, index: bar }: Bar, index: number): Slot {
  const slot = slots[index];
  if (!slot) throw new RangeError(`bar ${bar} has ${slots.length} slots, and none with index ${index}`);
  return slot;
}

/** The signs that take a chord from before, or nothing at all. */
const HOLDS = /^(?:[/%𝄎𝄏]|$)/u;

/** True when a slot continues a chord typed in an earlier bar. */
const isHeld = ({ from, to }: Slot, bar: Bar): boolean => from < bar.from || to > bar.to;

/** The chords of a bar as they are typed. */
export function unitsOf(chart: Chart, bar: Bar): Unit[] {
  return bar.slots.map((slot) => ({
    text: bar.simile === 0 && isHeld(slot, bar) ? '' : symbolOf(chart, slot),
    length: slot.length,
  }));
}

function symbolOf({ text }: Chart, { chord, silence, optional, from, to }: Slot): string {
  const written = chord?.text ?? text.slice(from, to);
  const typed = silence === 'no-chord' || HOLDS.test(written) ? 'N.C.' : written;
  return optional ? `(${typed})` : typed;
}

/** The units as a bar's text: evenly shared, or with slashes. Null when no text gives just these lengths. */
export function textOf(units: readonly Unit[], { length, metre }: Bar): string | null {
  const beat = beatLength(metre);
  let at = 0;
  const even = units.every((unit, index) => {
    const fits = at === Math.floor((index * length) / units.length);
    at += unit.length;
    return fits;
  });
  if (even && units.every(({ text }) => text !== '')) return units.map(({ text }) => text).join(' ');
  if (!units.every((unit) => unit.length % beat === 0)) return null;
  return units
    .map(({ text, length: lasts }) =>
      [text, slashes(lasts / beat - (text === '' ? 0 : 1))].filter(Boolean).join(' '),
    )
    .join(' ');
}

/** The units as a bar's text; those that no text gives in just these lengths share the bar evenly. */
export const nearestText = (units: readonly Unit[], bar: Bar): string =>
  textOf(units, bar) ??
  units
    .map(({ text }) => text)
    .filter(Boolean)
    .join(' ');

/** `text` with `insert` in place of the stretch from `from` to `to`, and spaces where it would touch. */
export function replaced(text: string, from: number, to: number, insert: string): string {
  const before = from > 0 && !/\s/.test(text[from - 1]!) ? ' ' : '';
  const after = to < text.length && !/\s/.test(text[to]!) ? ' ' : '';
  return text.slice(0, from) + before + insert + after + text.slice(to);
}

/** Words and signs that stand between the chords of a bar, as typed. */
export function insideOf({ text }: Chart, { from, to }: Bar): string[] {
  return tokenize(text.slice(from, to))
    .filter(({ kind }) => kind === 'note' || kind === 'sign')
    .map((token) => text.slice(from + token.from, from + token.to));
}

/** True when a bar is the second one of a two-bar simile mark. */
export function isSecondHalf(chart: Chart, index: number): boolean {
  if (chart.bars[index]?.simile !== 2) return false;
  const raws = rawBars(chart);
  return raws[index] === raws[index - 1];
}

/** What a bar plays as it would be typed in place of its simile mark or its held chord. */
function contentOf(chart: Chart, bar: Bar): string {
  let source = bar;
  while (source.simile > 0) {
    const before = chart.bars[source.index - source.simile];
    if (!before) break;
    source = before;
  }
  const typed = chart.text.slice(source.from, source.to);
  const same = source.length === bar.length && source.slots[0]?.from === bar.slots[0]?.from;
  if (source !== bar && same && !HOLDS.test(typed)) return typed;
  return nearestText(
    bar.slots.map((slot) => ({ text: symbolOf(chart, slot), length: slot.length })),
    bar,
  );
}

/** `chart` with the simile mark or the held chord of a bar written out as the chords it stands for. */
export function writtenOut(chart: Chart, index: number): Chart {
  const bar = barAt(chart, index);
  const other = bar.simile === 2 ? (isSecondHalf(chart, index) ? index - 1 : index + 1) : index;
  const bars = [...new Set([Math.min(index, other), Math.max(index, other)])].map((at) => barAt(chart, at));
  const content = bars.map((each) => contentOf(chart, each)).join(' | ');
  const text = replaced(chart.text, bar.from, bar.to, [content, ...insideOf(chart, bar)].join(' '));
  return readChart(text);
}

/**
 * `chart` with everything written out that bar `index` and those after it take from the bars before it,
 * so that a bar may come or go there and the others stay as they sound.
 */
export function independent(chart: Chart, index: number): Chart {
  let own = chart;
  const bar = own.bars[index];
  if (bar && HOLDS.test(chart.text.slice(bar.from, bar.to))) own = writtenOut(own, index);
  if (own.bars[index + 1]?.simile === 2 && !isSecondHalf(own, index + 1)) own = writtenOut(own, index + 1);
  return own;
}
