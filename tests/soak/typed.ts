import fc from 'fast-check';

/** How many inputs a proof tries; `SOAK_RUNS` sets it. */
export const RUNS = Number(process.env['SOAK_RUNS'] ?? 20_000);

const ROOTS = [
  'C',
  'Db',
  'D',
  'Eb',
  'E',
  'F',
  'F#',
  'Gb',
  'G',
  'Ab',
  'A',
  'Bb',
  'B',
  'B♭',
  'F♯',
  'H',
  'c',
  '',
];
const COLOURS = [
  ...['', 'm', '-', 'mi', 'maj', 'M', 'Δ', 'ø', '°', 'o', 'dim', '+', 'aug', 'sus', 'sus4', 'alt', '5'],
  ...['2', '6', '69', '7', '9', '11', '13', 'b5', '#5', 'b9', '#9', '#11', 'b13', '♭9', '♯11', 'b99', 'add9'],
  ...['(', ')', ',', '/', 'no3', '(maj7)', '(#9,b13)', '7b9', '7#11', '7alt', 'm7b5', 'maj7', '%'],
];
const SIGNS = [
  ...[
    '|',
    '||',
    '|:',
    ':|',
    ':|:',
    '3x',
    '1.',
    '2.',
    '1,2.',
    '1-3.',
    '[A]',
    '[Bridge]',
    '[',
    ']',
    '/',
    '%',
    '%%',
  ],
  ...[
    'N.C.',
    'NC',
    '4/4',
    '3/4',
    '5/4',
    '7/8',
    '0/4',
    '4/0',
    '99/4',
    'Segno',
    'Coda',
    'To Coda',
    'Fine',
    '\n',
  ],
  ...[
    'D.C.',
    'D.C. al Fine',
    'D.S. al Coda',
    '"rubato"',
    '"',
    '(',
    ')',
    '-',
    '.',
    ',',
    '𝄆',
    '𝄇',
    '𝄋',
    '𝄌',
    '\r\n',
  ],
];

/** A chord symbol put together from the pieces symbols are made of, rightly or not. */
export const anySymbol = fc
  .tuple(fc.constantFrom(...ROOTS), fc.array(fc.constantFrom(...COLOURS), { maxLength: 4 }))
  .chain(([root, colours]) =>
    fc.option(fc.constantFrom(...ROOTS), { nil: null }).map((bass) => {
      const symbol = root + colours.join('');
      return bass === null ? symbol : `${symbol}/${bass}`;
    }),
  );

/** A chart as a tired hand might type it: signs and symbols in any order, now and then something else. */
export const anyText = fc
  .array(
    fc.tuple(
      fc.oneof(
        { weight: 5, arbitrary: anySymbol },
        { weight: 5, arbitrary: fc.constantFrom(...SIGNS) },
        { weight: 1, arbitrary: fc.string({ unit: 'grapheme', maxLength: 6 }) },
        {
          weight: 1,
          arbitrary: fc.constantFrom('valueOf', '__proto__', 'constructor', '🎷', '\u0000', '\ud800'),
        },
      ),
      fc.constantFrom(' ', ' ', ''),
    ),
    { maxLength: 60 },
  )
  .map((pieces) => pieces.flat().join(''));

/** A chart without a mistake: bars of one, two or four chords, some of them dominants. */
export const plainText = fc
  .array(
    fc.oneof(
      fc.constantFrom(
        'Dm7',
        'G7',
        'Cmaj7',
        'C7',
        'Bm7b5',
        'E7',
        'Am6',
        'G7alt',
        'F7 Bb7',
        'Dm7 G7',
        '%',
        'N.C.',
      ),
      fc.constantFrom(
        'A7',
        'Dm7 / G7 /',
        'C#m7 F#7',
        'Bmaj7',
        'Gm7 C7',
        'Ebmaj7',
        'D7',
        'Fm6',
        'Db7',
        'Cm7 B7',
      ),
    ),
    { minLength: 1, maxLength: 16 },
  )
  .map((bars) => `| ${bars[0] === '%' ? 'C7' : bars[0]} | ${bars.slice(1).join(' | ')} |`);
