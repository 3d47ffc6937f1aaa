import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  carryBars,
  insertBar,
  mergeSlots,
  printChart,
  readChart,
  removeBar,
  replaceSlot,
  splitSlot,
  transposeChartText,
  unfold,
  type Bar,
  type Chart,
} from '../../src/engine/chart/index.ts';
import { pitchClass } from '../../src/engine/harmony/index.ts';
import { barLength } from '../../src/engine/units/index.ts';
import { anyChartText, anyText } from '../helpers/typed-charts.ts';

/** Everything a chart says except where in the text it says it. */
const said = ({ bars }: Chart) =>
  bars.map((bar) => ({
    ...bar,
    from: 0,
    to: 0,
    slots: bar.slots.map((slot) => ({ ...slot, chord: slot.chord?.text, from: 0, to: 0 })),
  }));

/** What a bar plays. An unreadable symbol and N.C. are alike silent. */
const sound = ({ metre, slots }: Bar) => ({
  metre,
  slots: slots.map(({ at, length, chord, optional }) => ({
    at,
    length,
    chord: chord?.text ?? null,
    optional,
  })),
});

describe('any text at all', () => {
  it('reads without an exception, with slots that fill their bar without gap or overlap', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const chart = readChart(text);
        expect(chart.text).toBe(text);
        for (const { slots, metre, length } of chart.bars) {
          expect(length).toBe(barLength(metre));
          let at = 0;
          for (const slot of slots) {
            expect(slot.at).toBe(at);
            expect(slot.length).toBeGreaterThan(0);
            expect(slot.chord === null).toBe(slot.silence !== null);
            at += slot.length;
          }
          expect(at).toBe(length);
        }
      }),
    );
  });

  it('has problems that lie in the text and say what is wrong and what would be right', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const chart = readChart(text);
        for (const { from, to, line, column, message, remedy } of [
          ...chart.problems,
          ...unfold(chart).problems,
        ]) {
          expect(from).toBeGreaterThanOrEqual(0);
          expect(to).toBeGreaterThanOrEqual(from);
          expect(text.length).toBeGreaterThanOrEqual(to);
          const lines = text.slice(0, from).split(/\r\n|[\n\r\u2028\u2029]/);
          expect([line, column]).toEqual([lines.length, lines.at(-1)!.length + 1]);
          expect(message.length).toBeGreaterThan(5);
          expect(remedy).toMatch(/^[A-ZÀ-Þ].*[.?|]$/su);
        }
      }),
    );
  });

  it('unfolds into its own bars, one after the other', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const chart = readChart(text);
        const form = unfold(chart);
        let at = 0;
        for (const { bar, start, pass } of form.bars) {
          expect(bar).toBe(chart.bars[bar.index]);
          expect(start).toBe(at);
          expect(pass).toBeGreaterThanOrEqual(1);
          at += bar.length;
        }
        expect(form.length).toBe(at);
        expect(form.bars.length > 0).toBe(chart.bars.length > 0);
      }),
    );
  });

  it('printed and read again says the same, and prints the same', () => {
    fc.assert(
      fc.property(fc.oneof(anyText, anyChartText), (text) => {
        const chart = readChart(text);
        const printed = printChart(chart);
        const again = readChart(printed);
        expect(said(again)).toEqual(said(chart));
        expect(printChart(again)).toBe(printed);
      }),
      { numRuns: 400 },
    );
  });
});

/** A simile in another metre cannot always be typed out in full. */
const canBeWrittenOut = (text: string) =>
  !readChart(text).problems.some(({ message }) => message.includes('another length'));

const anyEdit = fc
  .record({ text: anyChartText.filter(canBeWrittenOut), at: fc.nat(1000), within: fc.nat(1000) })
  .map(({ text, at, within }) => {
    const { bars } = readChart(text);
    const bar = at % bars.length;
    return { text, bar, slot: within % bars[bar]!.slots.length };
  });

describe('an edit of the text', () => {
  it('replaces one chord and leaves the other bars alone, but for those that repeat or hold it', () => {
    fc.assert(
      fc.property(anyEdit, ({ text, bar, slot }) => {
        const chart = readChart(text);
        const edited = readChart(replaceSlot(chart, bar, slot, 'Ebmaj7'));
        expect(edited.bars[bar]!.slots.map(({ length }) => length)).toEqual(
          chart.bars[bar]!.slots.map(({ length }) => length),
        );
        expect(edited.bars[bar]!.slots[slot]!.chord?.text).toBe('Ebmaj7');
        const others = chart.bars.filter(({ index }) => index !== bar);
        const untouched = others.filter(
          ({ slots }) => !slots.some(({ from }) => from === chart.bars[bar]!.slots[slot]!.from),
        );
        for (const { index } of untouched)
          expect(sound(edited.bars[index]!)).toEqual(sound(chart.bars[index]!));
      }),
      { numRuns: 300 },
    );
  });

  it('takes a chord out and keeps every bar', () => {
    fc.assert(
      fc.property(anyEdit, ({ text, bar, slot }) => {
        const chart = readChart(text);
        const { slots } = chart.bars[bar]!;
        const edited = readChart(replaceSlot(chart, bar, slot, ''));
        expect(edited.bars).toHaveLength(chart.bars.length);
        expect(edited.bars[bar]!.slots).toHaveLength(Math.max(1, slots.length - 1));
      }),
    );
  });

  it('inserts a bar and leaves the sound of all others', () => {
    fc.assert(
      fc.property(anyEdit, ({ text, bar }) => {
        const chart = readChart(text);
        const edited = readChart(insertBar(chart, bar, 'Ebmaj7'));
        expect(edited.bars.map(sound).toSpliced(bar, 1)).toEqual(chart.bars.map(sound));
        expect(edited.bars[bar]!.slots[0]!.chord?.text).toBe('Ebmaj7');
      }),
      { numRuns: 300 },
    );
  });

  it('removes a bar and leaves the sound of all others', () => {
    fc.assert(
      fc.property(anyEdit, ({ text, bar }) => {
        const chart = readChart(text);
        const edited = readChart(removeBar(chart, bar));
        expect(edited.bars.map(sound)).toEqual(chart.bars.map(sound).toSpliced(bar, 1));
      }),
      { numRuns: 300 },
    );
  });

  it('splits a chord in two and merges it again', () => {
    fc.assert(
      fc.property(anyEdit, ({ text, bar, slot }) => {
        const chart = readChart(text);
        const split = readChart(splitSlot(chart, bar, slot, 'Ebmaj7'));
        if (split.text === chart.text) return;
        const { slots } = split.bars[bar]!;
        expect(slots).toHaveLength(chart.bars[bar]!.slots.length + 1);
        expect(slots[slot + 1]!.chord?.text).toBe('Ebmaj7');
        const merged = readChart(mergeSlots(split, bar, slot));
        expect(sound(merged.bars[bar]!)).toEqual(sound(chart.bars[bar]!));
      }),
      { numRuns: 300 },
    );
  });

  it('is followed by every bar, each to a place of its own', () => {
    fc.assert(
      fc.property(anyText, anyText, anyEdit, (one, other, { text, bar }) => {
        const chart = readChart(text);
        for (const [before, after] of [
          [readChart(one), readChart(other)],
          [chart, readChart(insertBar(chart, bar, 'Ebmaj7'))],
        ] as const) {
          const carry = carryBars(before, after);
          const places = before.bars.map(({ index }) => carry(index)).filter((place) => place !== null);
          expect(new Set(places).size).toBe(places.length);
          expect(places).toEqual([...places].sort((a, b) => a - b));
          expect(places.every((place) => place in after.bars)).toBe(true);
          if (before === chart) expect(places).toHaveLength(chart.bars.length);
        }
      }),
    );
  });
});

describe('a transposed chart', () => {
  const roots = ({ bars }: Chart) =>
    bars.flatMap(({ slots }) => slots.map(({ chord }) => (chord === null ? null : pitchClass(chord.root))));
  const shape = ({ bars }: Chart) =>
    bars.map(({ slots, ...bar }) => ({
      ...bar,
      from: 0,
      to: 0,
      slots: slots.map(({ chord, at, length }) => ({
        at,
        length,
        degrees: chord?.degrees,
        family: chord?.family,
      })),
    }));
  const anyStep = fc.integer({ min: -24, max: 24 });
  const anySpelling = fc.constantFrom('auto' as const, 'flats' as const, 'sharps' as const);

  it('has every root moved by the same step and all else as it was', () => {
    fc.assert(
      fc.property(fc.oneof(anyText, anyChartText), anyStep, anySpelling, (text, step, spelling) => {
        const chart = readChart(text);
        const moved = readChart(transposeChartText(chart, step, spelling));
        expect(roots(moved)).toEqual(
          roots(chart).map((root) => (root === null ? null : (root + step + 24) % 12)),
        );
        expect(shape(moved)).toEqual(shape(chart));
      }),
      { numRuns: 300 },
    );
  });
});
