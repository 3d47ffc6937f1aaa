import { bench, describe } from 'vitest';
import { carryBars, printChart, readChart, unfold } from '../../../src/engine/chart/index.ts';

const LINE = '| Dm7 G7 | Cmaj7 / A7 / | F#m7b5 | B7(b9, b13) |\n';
const typed = (letters: number) => LINE.repeat(Math.ceil(letters / LINE.length));

describe('reading grows with the length of the text and no faster', () => {
  for (const letters of [12_500, 25_000, 50_000, 100_000]) {
    const text = typed(letters);
    bench(`${letters} letters`, () => void readChart(text));
  }
  bench('100000 letters of bars of one letter', () => void readChart('C|'.repeat(50_000)));
  bench('100000 letters of unclosed brackets and quotes', () => void readChart('(C [A "'.repeat(14_286)));
});

describe('a keystroke in a chart of 64 bars', () => {
  const text = typed(LINE.length * 16);
  const before = readChart(text);
  const changed = readChart(text.replace('Cmaj7', 'Am7'));
  bench('read', () => void readChart(text));
  bench('unfold', () => void unfold(before));
  bench('carry bars', () => void carryBars(before, changed));
  bench('print', () => void printChart(before));
});
