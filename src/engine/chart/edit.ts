import { beatLength } from '../units/index.ts';
import {
  barAt,
  independent,
  insideOf,
  isSecondHalf,
  nearestText,
  replaced,
  slotAt,
  textOf,
  unitsOf,
  writtenOut,
} from './content.ts';
import { rawBars } from './items.ts';
import { holdsBefore } from './raw-bar.ts';
import type { Chart } from './types.ts';

// Each edit returns the chart's text with one thing changed and everything else as it was typed. What a
// simile mark or a held chord takes from a bar that an edit parts it from is written out first.

/**
 * The text with another symbol in a slot. An empty symbol takes the chord out: its neighbour takes its
 * time, and a bar's only chord becomes N.C.
 * @throws RangeError when the chart has no such bar or the bar no such slot
 */
export function replaceSlot(chart: Chart, bar: number, slot: number, symbol: string): string {
  const { slots, simile, from: start } = barAt(chart, bar);
  slotAt(barAt(chart, bar), slot);
  const typed = symbol.trim() || 'N.C.';
  if (symbol.trim() === '' && slots.length > 1) return withoutSlot(chart, bar, slot);
  if (simile > 0) return replaceSlot(writtenOut(chart, bar), bar, slot, typed);
  const heads = rawBars(chart)[bar]!.items.filter((item, index) => index === 0 || !holdsBefore(item));
  const item = heads[slot];
  if (!item) return replaced(chart.text, start, start, typed);
  // A chord that was held by slashes takes the place of the first of them.
  const end = item.kind === 'hold' ? item.from + 1 : item.to;
  const gap = chart.text[end] === '/' ? ' ' : '';
  return chart.text.slice(0, item.from) + typed + gap + chart.text.slice(end);
}

function withoutSlot(chart: Chart, bar: number, slot: number): string {
  const units = unitsOf(chart, barAt(chart, bar));
  const heir = slot === 0 ? 1 : slot - 1;
  units[heir] = { ...units[heir]!, length: units[heir]!.length + units[slot]!.length };
  units.splice(slot, 1);
  return writeBar(chart, bar, nearestText(units, barAt(chart, bar)));
}

/**
 * The text with a slot split in two at a beat, the longer part first. The new chord is `symbol`, or the
 * old one once more. Where no text gives such lengths the text comes back as it is.
 * @throws RangeError when the chart has no such bar or the bar no such slot
 */
export function splitSlot(chart: Chart, bar: number, slot: number, symbol = ''): string {
  const whole = barAt(chart, bar);
  const { length } = slotAt(whole, slot);
  const beat = beatLength(whole.metre);
  const first = Math.ceil(length / beat / 2) * beat;
  const units = unitsOf(chart, whole);
  const { text } = units[slot]!;
  const added = symbol.trim() || text || whole.slots[slot]!.chord?.text || 'N.C.';
  units.splice(slot, 1, { text, length: first }, { text: added, length: length - first });
  const content = first < length ? textOf(units, whole) : null;
  return content === null ? chart.text : writeBar(chart, bar, content);
}

/**
 * The text with a slot and the one after it in its bar made one, under the first one's chord. The last
 * slot of a bar has none after it: the text comes back as it is.
 * @throws RangeError when the chart has no such bar or the bar no such slot
 */
export function mergeSlots(chart: Chart, bar: number, slot: number): string {
  slotAt(barAt(chart, bar), slot);
  return slot + 1 < barAt(chart, bar).slots.length ? withoutSlot(chart, bar, slot + 1) : chart.text;
}

/**
 * The text with other chords in a bar. Its repeats, ending, time signature, mark, signs and words stay.
 * @param content what is played, e.g. "Dm7 G7"
 * @throws RangeError when the chart has no such bar
 */
export function writeBar(chart: Chart, bar: number, content: string): string {
  if (barAt(chart, bar).simile === 2) return writeBar(writtenOut(chart, bar), bar, content);
  const { from, to } = barAt(chart, bar);
  return replaced(
    chart.text,
    from,
    to,
    [content.trim() || 'N.C.', ...insideOf(chart, barAt(chart, bar))].join(' '),
  );
}

/**
 * The text with a new bar before bar `at`; as many as the chart has bars puts it at the end. It joins
 * the section and the repeat of the bar before it.
 * @param content what is played in it; without it the bar before again
 * @throws RangeError when `at` lies outside the chart
 */
export function insertBar(chart: Chart, at: number, content = at === 0 ? 'N.C.' : '%'): string {
  if (!Number.isInteger(at) || at < 0 || at > chart.bars.length) {
    throw new RangeError(`a bar goes in at 0 to ${chart.bars.length}, not at ${at}`);
  }
  if (chart.bars.length === 0) return chart.text.trim() === '' ? content : `${chart.text}\n${content}`;
  const { text, bars } = independent(isSecondHalf(chart, at) ? writtenOut(chart, at) : chart, at);
  if (at === 0) return replaced(text, bars[0]!.from, bars[0]!.from, `${content} |`);
  const { from, to } = bars[at - 1]!;
  if (from === to) return replaced(text, to, to, `| ${content}`);
  const end = to + WORDS.exec(text.slice(to))![0].length;
  return replaced(text, end, end, `| ${content}`);
}

/** Words above a bar, typed after its chords. */
const WORDS = /^(?:[^\S\n\r]*["“][^"“”\n\r]*["”])*/;
