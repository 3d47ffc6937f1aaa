import { describe, expect, it } from 'vitest';
import { beats, readText, toQuarters } from '../../src/engine/index.ts';
import { beatAt, beatsOfBar, breakLines, stepBeat } from '../../src/ui/ribbon/layout.ts';

const barsOf = (text: string) => readText(text).form.bars;
const lines = (text: string, count: number) =>
  breakLines(barsOf(text), count).lines.map(({ first, end }) => `${first + 1}-${end}`);

describe('the ribbon breaks its lines', () => {
  it('after as many bars as fit', () => {
    expect(lines('C | % | % | % | % | %', 4)).toEqual(['1-4', '5-6']);
    expect(lines('C | % | %', 2)).toEqual(['1-2', '3-3']);
  });

  it('before a rehearsal mark', () => {
    expect(lines('[A] C | % | [B] F | % | % | %', 4)).toEqual(['1-2', '3-6']);
  });

  it('by time, so that a bar of two takes half the room of a bar of four', () => {
    const { lines: broken, capacity } = breakLines(barsOf('C | % | 2/4 G7 | % | 4/4 C | %'), 4);
    expect(broken.map(({ length }) => toQuarters(length))).toEqual([12, 8]);
    expect(toQuarters(capacity)).toBe(16);
  });

  it('so that a form shorter than a line fills it', () => {
    const { capacity } = breakLines(barsOf('C7alt'), 4);
    expect(toQuarters(capacity)).toBe(4);
  });

  it('alike for a section in three and a section in four', () => {
    expect(lines('[A] C | % | % | % | [B] 3/4 F | % | % | % | % | %', 4)).toEqual(['1-4', '5-8', '9-10']);
  });

  it('into nothing where nothing is written', () => {
    expect(breakLines(barsOf(''), 4).lines).toEqual([]);
  });
});

describe('a beat', () => {
  it('is a quarter in 4/4 and three eighths in 6/8', () => {
    expect(beatsOfBar(barsOf('C'), 0).map(({ length }) => toQuarters(length))).toEqual([1, 1, 1, 1]);
    expect(beatsOfBar(barsOf('6/8 C'), 0).map(({ length }) => toQuarters(length))).toEqual([1.5, 1.5]);
  });

  it('is found from any tick in it', () => {
    const bars = barsOf('3/4 C | F');
    expect(beatAt(bars, beats(3.5))).toMatchObject({ bar: 1, beat: 0, start: beats(3) });
    expect(beatAt(bars, beats(99))).toMatchObject({ bar: 1, beat: 2 });
  });

  it('has no neighbour beyond the ends of the form', () => {
    const bars = barsOf('C | F');
    expect(stepBeat(bars, beats(0), -1)).toMatchObject({ bar: 0, beat: 0 });
    expect(stepBeat(bars, beats(3), 1)).toMatchObject({ bar: 1, beat: 0 });
    expect(stepBeat(bars, beats(6), 9)).toMatchObject({ bar: 1, beat: 3 });
  });
});
