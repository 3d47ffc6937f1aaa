import fc from 'fast-check';
import { readChart } from '../../src/engine/chart/index.ts';

const SYMBOLS = ['C', 'G7', 'F#m7b5', 'Bb13/D', 'C7(b9, #11)', 'Cm (maj7)', 'E♭△', 'Db7alt', 'Am7', 'G7sus'];

const PIECES = [
  ...SYMBOLS,
  ...['|', '||', '|:', ':|', ':|:', '||:', ':||', '|]', '𝄆', '𝄇', '‖', '\n', '\n\n', '\r\n'],
  ...['1.', '2.', '1,2.', '1-3.', '3x', 'x2', '(2x)', '0x', '100x'],
  ...['[A]', '[B1]', '[', ']', '"slow"', '"', '“', '(', ')', '(Dm7)', '(Dm7 G7)'],
  ...['/', '//', '///', '%', '%%', '𝄎', '𝄏', 'N.C.', 'NC', '3/4', '6/8', '0/4', '5/3', '𝄵'],
  ...['Segno', '𝄋', 'Coda', '𝄌', 'To Coda', 'Fine', 'D.C.', 'D.S. al Coda', 'D.C. al Fine'],
  ...['H7', 'C7b99', 'valueOf', '__proto__', 'C///', 'C/', '1', 'x', 'D.', '-', ':', '😀', '\u2028', '\0'],
];

/** Any text at all: signs of a lead sheet in any order, unclosed things, strange letters. */
export const anyText = fc
  .array(
    fc.oneof(
      {
        weight: 9,
        arbitrary: fc
          .tuple(fc.constantFrom(...PIECES), fc.constantFrom(' ', ' ', '', '  '))
          .map((both) => both.join('')),
      },
      { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 4 }) },
    ),
    { maxLength: 40 },
  )
  .map((pieces) => pieces.join(''));

const anyBar = fc.oneof(
  {
    weight: 6,
    arbitrary: fc
      .array(fc.constantFrom(...SYMBOLS), { minLength: 1, maxLength: 4 })
      .map((chords) => chords.join(' ')),
  },
  fc.constantFrom('C / G7 /', '/ / Am7 /', 'Dm7 / / G7', '%', '%%', '', 'F "fill"', '(A7)', 'N.C.'),
);
const anyHead = fc.constantFrom('', '', '', '', '[A]', '3/4', '4/4', 'Segno', '"x"');
const anyEnd = fc.constantFrom('', '', '', '', '', 'Fine', 'To Coda');
const anyLine = fc.constantFrom(
  '|',
  '|',
  '|',
  '|',
  '||',
  ':|',
  '|:',
  ':|:',
  '|\n|',
  '\n',
  ':| 3x |',
  '|1.',
  ':|2.',
);

/** A chart as somebody types it, with all that stands on a lead sheet. At least one bar. */
export const anyChartText = fc
  .array(fc.tuple(anyHead, anyBar, anyEnd, anyLine), { minLength: 1, maxLength: 8 })
  .map((bars) => `| ${bars.map((bar) => bar.filter(Boolean).join(' ')).join(' ')}`)
  .filter((text) => readChart(text).bars.length > 0);
