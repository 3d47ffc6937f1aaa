import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { printChord, readChord, readText } from '../../src/engine/index.ts';
import { anySymbol, anyText, RUNS } from './typed.ts';

describe('whatever is typed', () => {
  it('is read as a chart whose bars are full, whose problems have a place and a remedy', () => {
    fc.assert(
      fc.property(anyText, (text) => {
        const { chart, form, written } = readText(text);
        expect(chart.text).toBe(text);
        for (const bar of chart.bars) {
          const end = bar.slots.reduce((at, slot) => {
            expect(slot.at).toBe(at);
            expect(slot.length).toBeGreaterThan(0);
            return at + slot.length;
          }, 0);
          expect(end).toBe(bar.length);
        }
        for (const problem of [...chart.problems, ...form.problems]) {
          expect(problem.from).toBeGreaterThanOrEqual(0);
          expect(problem.to).toBeGreaterThanOrEqual(problem.from);
          expect(problem.to).toBeLessThanOrEqual(text.length);
          expect(Math.min(problem.message.length, problem.remedy.length)).toBeGreaterThan(3);
        }
        expect(form.bars.reduce((at, { bar, start }) => (start === at ? at + bar.length : NaN), 0)).toBe(
          form.length,
        );
        const end = written.spans.reduce((at, { start, length }) => (start === at ? at + length : NaN), 0);
        expect(end).toBe(form.length);
      }),
      { numRuns: RUNS },
    );
  });

  it('is a chord that prints as a symbol for the same chord, or a problem inside the symbol', () => {
    fc.assert(
      fc.property(anySymbol, (symbol) => {
        const read = readChord(symbol);
        if (read.ok) {
          for (const style of ['ascii', 'letters', 'signs'] as const) {
            const again = readChord(printChord(read.value, style));
            expect(again.ok && { ...again.value, text: symbol }).toEqual(read.value);
          }
        } else {
          expect(read.error.from).toBeGreaterThanOrEqual(0);
          expect(read.error.to).toBeGreaterThanOrEqual(read.error.from);
          expect(read.error.to).toBeLessThanOrEqual(symbol.length);
          expect(read.error.message.length).toBeGreaterThan(3);
        }
      }),
      { numRuns: RUNS },
    );
  });
});
