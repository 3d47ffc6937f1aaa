import { describe, expect, it } from 'vitest';
import { readChart, unfold } from '../../../src/engine/chart/index.ts';

const played = (text: string) =>
  unfold(readChart(text))
    .bars.map(({ bar, pass }) => `${bar.index + 1}:${pass}`)
    .join(' ');

describe('the bars as played', () => {
  it('know which time through their repeat they are', () => {
    expect(played('|: C |1. F :|2. G7 || Am7')).toBe('1:1 2:1 1:2 3:2 4:1');
    expect(played('|: C |: F :| Bb :| G7')).toBe('1:1 2:1 2:2 3:1 1:2 2:1 2:2 3:2 4:1');
  });

  it('after a da capo take the last ending and count as the last time', () => {
    expect(played('|: C |1. F :|2. G7 Fine | Am7 D.C. al Fine')).toBe('1:1 2:1 1:2 3:2 4:1 1:2 3:2');
  });

  it('go back to the sign and on to the coda once', () => {
    expect(played('C | Segno F | G7 To Coda | Am7 D.S. al Coda || Coda Bb')).toBe(
      '1:1 2:1 3:1 4:1 2:1 3:1 5:1',
    );
  });

  it('end at Fine after a plain D.C. where one is written, and go to the coda where none is', () => {
    expect(played('C Fine | F D.C.')).toBe('1:1 2:1 1:1');
    expect(played('C To Coda | F D.C. | Coda G7')).toBe('1:1 2:1 1:1 3:1');
    expect(played('C | F D.C.')).toBe('1:1 2:1 1:1 2:1');
  });

  it('finish a repeat before they jump from its last bar', () => {
    expect(played('C |: F D.C. :| G7')).toBe('1:1 2:1 2:2 1:1 2:2 3:1');
  });
});

describe('a form too long to play', () => {
  it.each([
    ['ninety-nine times ninety-nine', '|: |: C :| 99x F :| 99x'],
    ['repeats nested forty deep', '|: C '.repeat(40) + ':| F '.repeat(40)],
    ['five thousand bars', 'C | '.repeat(5000)],
  ])('%s ends at 4000 bars and says so', (_, text) => {
    const form = unfold(readChart(text));
    expect(form.bars).toHaveLength(4000);
    expect(form.problems.map(({ severity }) => severity)).toEqual(['error']);
    expect(form.problems[0]!.message).toContain('4000 bars');
  });
});
