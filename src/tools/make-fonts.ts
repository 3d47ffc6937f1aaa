/**
 * Makes the font files of the page that no package offers:
 * `signs-400.woff2` and `signs-700.woff2`, accidentals and chord signs drawn here to stand beside the
 * chord face; `chords.woff2`, Bricolage Grotesque (SIL OFL 1.1, no reserved name) cut down to the
 * characters chord symbols and headings use; `text.woff2`, Encode Sans (SIL OFL 1.1) cut down to what English
 * is written in, under another name, since that one is reserved for the whole font; and `staff.woff2`, the signs of Bravura (SIL OFL 1.1) that
 * notation here is made of, under another name, since the name Bravura is reserved for the whole font.
 *
 *     npx tsx src/tools/make-fonts.ts
 */
import { readFileSync, writeFileSync } from 'node:fs';
import opentype from 'opentype.js';
import subsetFont from 'subset-font';
import wawoff2 from 'wawoff2';
import { fontOf, renamed, tablesOf } from './font-tables.ts';

const OUT = new URL('../ui/style/fonts/', import.meta.url);
const TEXT_FACE = 'node_modules/@fontsource-variable/encode-sans/files/encode-sans-latin-wdth-normal.woff2';
const CHORD_FACE =
  'node_modules/@fontsource-variable/bricolage-grotesque/files/bricolage-grotesque-latin-wdth-normal.woff2';

/** How far a variable font goes along one of its axes. */
interface FontRange {
  readonly min: number;
  readonly max: number;
}

/** Units: 1000 to the em; capitals of the chord face are 660 high. `w` is the width of a stroke. */
type Pen = InstanceType<typeof opentype.Path>;
interface Sign {
  readonly name: string;
  readonly code: number;
  readonly width: (w: number) => number;
  readonly draw: (pen: Pen, w: number) => void;
}

const polygon = (pen: Pen, ...points: readonly (readonly [number, number])[]) => {
  points.forEach(([x, y], i) => (i === 0 ? pen.moveTo(x, y) : pen.lineTo(x, y)));
  pen.close();
};
const bar = (pen: Pen, x: number, y: number, width: number, height: number) =>
  polygon(pen, [x, y], [x, y + height], [x + width, y + height], [x + width, y]);

/** Control distance that makes a cubic curve a quarter of a circle. */
const ROUND = 0.5523;

function ring(pen: Pen, cx: number, cy: number, rx: number, ry: number, w: number) {
  const circle = (a: number, b: number, way: 1 | -1) => {
    const [kx, ky] = [a * ROUND, b * ROUND];
    pen.moveTo(cx - a, cy);
    pen.curveTo(cx - a, cy + way * ky, cx - kx, cy + way * b, cx, cy + way * b);
    pen.curveTo(cx + kx, cy + way * b, cx + a, cy + way * ky, cx + a, cy);
    pen.curveTo(cx + a, cy - way * ky, cx + kx, cy - way * b, cx, cy - way * b);
    pen.curveTo(cx - kx, cy - way * b, cx - a, cy - way * ky, cx - a, cy);
    pen.close();
  };
  circle(rx, ry, 1);
  circle(rx - w, ry - w, -1);
}

/** A flat: a stem and a belly that runs to a point at its foot. */
function flat(pen: Pen, x: number, w: number, belly: number) {
  const stem = w * 0.82;
  bar(pen, x, -40, stem, 800);
  const [left, right, top] = [x + stem * 0.5, x + belly, 445];
  pen.moveTo(left, 330);
  pen.curveTo(left + belly * 0.2, 420, left + belly * 0.38, top, left + belly * 0.56, top);
  pen.curveTo(right - w * 0.2, top, right, 375, right, 288);
  pen.curveTo(right, 165, left + belly * 0.5, 60, left, -40);
  pen.lineTo(left, 62);
  pen.curveTo(left + belly * 0.34, 135, right - w, 205, right - w, 285);
  pen.curveTo(right - w, 335, right - w * 1.35, 358, left + belly * 0.5, 358);
  pen.curveTo(left + belly * 0.32, 358, left + belly * 0.18, 320, left, 240);
  pen.close();
}

function sharp(pen: Pen, w: number) {
  const [stem, beam, lift] = [w * 0.78, w * 1.12, 62];
  bar(pen, 120, -70, stem, 770);
  bar(pen, 290 - stem * 0.2, -20, stem, 770);
  for (const y of [170, 400]) polygon(pen, [30, y], [30, y + beam], [420, y + beam + lift], [420, y + lift]);
}

function natural(pen: Pen, w: number) {
  const [stem, beam, lift] = [w * 0.78, w * 1.12, 50];
  bar(pen, 50, 130, stem, 630);
  bar(pen, 300 - stem, -80, stem, 630);
  for (const y of [150, 390]) polygon(pen, [50, y], [50, y + beam], [300, y + beam + lift], [300, y + lift]);
}

function doubleSharp(pen: Pen, w: number) {
  const [a, b, t] = [50, 390, w * 0.62];
  polygon(pen, [a, 160 + t], [b - t, 500], [b, 500 - t], [a + t, 160]);
  polygon(pen, [a, 500 - t], [a + t, 500], [b, 160 + t], [b - t, 160]);
  for (const [x, y] of [
    [a, 160],
    [b - w, 160],
    [a, 500 - w],
    [b - w, 500 - w],
  ] as const)
    bar(pen, x, y, w, w);
}

function triangle(pen: Pen, w: number) {
  const [left, right, apex, top] = [20, 600, 310, 670];
  const rise = top / (apex - left);
  const side = w * Math.hypot(1, 1 / rise);
  polygon(pen, [left, 0], [apex, top], [right, 0]);
  const inLeft = left + w / rise + side;
  polygon(pen, [inLeft, w], [right - (inLeft - left), w], [apex, w + (apex - inLeft) * rise]);
}

function halfDiminished(pen: Pen, w: number) {
  ring(pen, 260, 330, 215, 225, w * 0.9);
  const t = w * 0.5;
  polygon(pen, [40, 40], [470 - t, 650], [480 + t * 0.2, 620], [50 + t, 10]);
}

/** A simile mark: repeat the bar before. */
function simile(pen: Pen, w: number) {
  const t = w * 1.5;
  polygon(pen, [60, 40], [520 - t, 620], [520, 620], [60 + t, 40]);
  const dot = w * 0.78;
  for (const [x, y] of [
    [130, 500],
    [450, 160],
  ] as const) {
    pen.moveTo(x - dot, y);
    pen.curveTo(x - dot, y + dot * ROUND, x - dot * ROUND, y + dot, x, y + dot);
    pen.curveTo(x + dot * ROUND, y + dot, x + dot, y + dot * ROUND, x + dot, y);
    pen.curveTo(x + dot, y - dot * ROUND, x + dot * ROUND, y - dot, x, y - dot);
    pen.curveTo(x - dot * ROUND, y - dot, x - dot, y - dot * ROUND, x - dot, y);
    pen.close();
  }
}

const SIGNS: readonly Sign[] = [
  { name: 'degree', code: 0xb0, width: () => 400, draw: (pen, w) => ring(pen, 195, 500, 160, 160, w * 0.85) },
  { name: 'oslash', code: 0xf8, width: () => 520, draw: halfDiminished },
  { name: 'Delta', code: 0x394, width: () => 620, draw: triangle },
  { name: 'triangle', code: 0x25b3, width: () => 620, draw: triangle },
  {
    name: 'flat',
    code: 0x266d,
    width: (w) => 360 + w * 0.3,
    draw: (pen, w) => flat(pen, 50, w, 290 + w * 0.3),
  },
  { name: 'natural', code: 0x266e, width: () => 350, draw: natural },
  { name: 'sharp', code: 0x266f, width: () => 450, draw: sharp },
  {
    name: 'doubleflat',
    code: 0x1d12b,
    width: () => 590,
    draw: (pen, w) => {
      flat(pen, 40, w * 0.9, 250);
      flat(pen, 300, w * 0.9, 250);
    },
  },
  { name: 'doublesharp', code: 0x1d12a, width: () => 440, draw: doubleSharp },
  { name: 'simile', code: 0x1d10e, width: () => 580, draw: simile },
];

function signs(weight: number, stroke: number): ArrayBuffer {
  const glyphs = SIGNS.map(({ name, code, width, draw }) => {
    const path = new opentype.Path();
    draw(path, stroke);
    return new opentype.Glyph({ name, unicode: code, advanceWidth: Math.round(width(stroke)), path });
  });
  const empty = new opentype.Glyph({ name: '.notdef', advanceWidth: 300, path: new opentype.Path() });
  return new opentype.Font({
    familyName: 'Vampwright Signs',
    styleName: weight === 400 ? 'Regular' : 'Bold',
    unitsPerEm: 1000,
    ascender: 930,
    descender: -270,
    glyphs: [empty, ...glyphs],
  }).toArrayBuffer();
}

for (const [weight, stroke] of [
  [400, 66],
  [700, 100],
] as const) {
  const file = Buffer.from(await wawoff2.compress(Buffer.from(signs(weight, stroke))));
  writeFileSync(new URL(`signs-${weight}.woff2`, OUT), file);
}

const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789';
const MARKS = ' .,:;!?()/+-#–—’“”…·×%&−';
/** What of the typography is used: pairs of letters, and figures of one width. */
const FEATURES = ['kern', 'tnum'];
/**
 * A font cut down to some characters that keeps the width and the weight as ranges. Pairs of letters are set in
 * one way for the whole of them, as in the middle: what kerning varies by is a third of the file.
 * @param middle the width and the weight that the pairs are taken from
 */
async function cut(
  file: string,
  characters: string,
  { wght, wdth }: Readonly<Record<'wght' | 'wdth', FontRange>>,
  middle: Readonly<Record<'wght' | 'wdth', number>>,
): Promise<Buffer> {
  const from = readFileSync(file);
  const as = async (variationAxes: Record<string, number | FontRange>) =>
    Buffer.from(
      await subsetFont(from, characters, { targetFormat: 'truetype', variationAxes, keepFeatures: FEATURES }),
    );
  const [whole, still] = await Promise.all([as({ wght, wdth }), as({ ...middle })]);
  const tables = tablesOf(whole);
  tables.delete('GDEF');
  tables.set('GPOS', tablesOf(still).get('GPOS')!);
  return fontOf(tables);
}

const chords = await cut(
  CHORD_FACE,
  LETTERS + MARKS,
  { wght: { min: 600, max: 760 }, wdth: { min: 75, max: 100 } },
  { wght: 680, wdth: 92 },
);
writeFileSync(new URL('chords.woff2', OUT), Buffer.from(await wawoff2.compress(chords)));

/** ASCII, and the marks of the page's own words; `fonts.css` says so too. */
const ENGLISH = Array.from({ length: 95 }, (_, i) => String.fromCodePoint(0x20 + i)).join('');
const text = await cut(
  TEXT_FACE,
  `${ENGLISH}\u00a0°·×–—‘’“”…−`,
  { wght: { min: 400, max: 700 }, wdth: { min: 75, max: 100 } },
  { wght: 560, wdth: 96 },
);
writeFileSync(new URL('text.woff2', OUT), Buffer.from(await wawoff2.compress(renamed(text))));

const STAFF_FACE = 'node_modules/@vexflow-fonts/bravura/bravura.otf';

/** The signs of the Standard Music Font Layout that are drawn, by code point: from that code on, so many. */
const STAFF_SIGNS: readonly (readonly [from: number, count: number, what: string])[] = [
  [0x20, 1, 'space'],
  [0xe050, 1, 'treble clef'],
  [0xe052, 1, 'treble clef an octave down'],
  [0xe062, 1, 'bass clef'],
  [0xe064, 1, 'bass clef an octave down'],
  [0xe06d, 2, 'clefs of tablature'],
  [0xe080, 10, 'figures of time signatures'],
  [0xe0a2, 3, 'note heads'],
  [0xe1e7, 1, 'dot'],
  [0xe240, 4, 'flags'],
  [0xe260, 5, 'accidentals'],
  [0xe4a0, 2, 'accents'],
  [0xe4e3, 5, 'rests'],
  [0xe4f4, 2, 'rests beyond the staff'],
  [0xe880, 10, 'figures of triplets'],
];

function staff(): ArrayBuffer {
  const whole = opentype.parse(new Uint8Array(readFileSync(STAFF_FACE)).buffer);
  const codes = STAFF_SIGNS.flatMap(([from, count]) => Array.from({ length: count }, (_, i) => from + i));
  const glyphs = codes.map((code) => {
    const { name, advanceWidth, path } = whole.charToGlyph(String.fromCodePoint(code));
    return new opentype.Glyph({
      name: name ?? `u${code}`,
      unicode: code,
      advanceWidth: advanceWidth ?? 0,
      path,
    });
  });
  const empty = new opentype.Glyph({ name: '.notdef', advanceWidth: 300, path: new opentype.Path() });
  return new opentype.Font({
    familyName: 'Vampwright Staff',
    styleName: 'Regular',
    unitsPerEm: whole.unitsPerEm,
    ascender: whole.ascender,
    descender: whole.descender,
    copyright: 'Copyright 2019, Steinberg Media Technologies GmbH, with Reserved Font Name "Bravura"',
    license: 'SIL Open Font License, Version 1.1; cut down from Bravura',
    glyphs: [empty, ...glyphs],
  }).toArrayBuffer();
}

writeFileSync(new URL('staff.woff2', OUT), Buffer.from(await wawoff2.compress(Buffer.from(staff()))));
