/**
 * Makes `src/ui/handout/outlines.json`: the outlines of the characters that figures are lettered with, so that a
 * saved figure needs no font. The faces are those of the page, each at the one weight that figures use most.
 *
 *     npx tsx src/tools/make-outlines.ts && npm run format
 */
import { readFileSync, writeFileSync } from 'node:fs';
import opentype from 'opentype.js';
import subsetFont from 'subset-font';
import wawoff2 from 'wawoff2';

const FONTS = new URL('../ui/style/fonts/', import.meta.url);
const TEXT = 'node_modules/@fontsource-variable/encode-sans/files/encode-sans-latin-wdth-normal.woff2';

const codes = (from: number, to: number): string =>
  Array.from({ length: to - from + 1 }, (_, i) => String.fromCodePoint(from + i)).join('');
const LETTERS = `${codes(0x21, 0x7e)}–—’“”…·×−`;

type Font = ReturnType<typeof opentype.parse>;

/** Coordinates of a path's commands, in the order of SVG. */
const ORDER = ['x1', 'y1', 'x2', 'y2', 'x', 'y'];

/** A path in whole numbers. */
const pathData = ({ commands }: InstanceType<typeof opentype.Path>): string =>
  commands
    .map((command) => {
      const values = ORDER.filter((name) => name in command).map((name) => Math.round(Number(command[name])));
      return command.type + values.join(' ').replaceAll(' -', '-');
    })
    .join('');

/** Each character with its advance and its outline, in thousandths of the em, y downwards. */
function outlines(font: Font, characters: string): Record<string, readonly [number, string]> {
  const scale = 1000 / font.unitsPerEm;
  const found: [string, readonly [number, string]][] = [];
  for (const character of characters) {
    const glyph = font.charToGlyph(character);
    if (glyph.index === 0) continue;
    const path = glyph.getPath(0, 0, 1000, undefined, font);
    found.push([character, [Math.round((glyph.advanceWidth ?? 0) * scale), pathData(path)]]);
  }
  return Object.fromEntries(found);
}

const parse = (bytes: Uint8Array): Font => opentype.parse(new Uint8Array(bytes).buffer);
const own = async (name: string): Promise<Font> =>
  parse(await wawoff2.decompress(readFileSync(new URL(name, FONTS))));

/** A variable face at one weight and at its full width. */
async function at(file: string | URL, weight: number, characters: string): Promise<Font> {
  const instance = await subsetFont(readFileSync(file), characters, {
    targetFormat: 'truetype',
    variationAxes: { wght: weight, wdth: 100 },
  });
  return parse(instance);
}

const SIGNS = 'Δ△♭♯♮𝄫𝄪𝄎°ø';
/** The code points of `staff.woff2`, as in `make-fonts.ts`. */
const staff = await own('staff.woff2');
const STAFF = Object.values(staff.glyphs.glyphs)
  .map(({ unicode }) => unicode ?? 0)
  .filter((code) => code > 0x20)
  .map((code) => String.fromCodePoint(code))
  .join('');
const latin = LETTERS + codes(0xc0, 0xff);

const all = {
  text: outlines(await at(TEXT, 620, latin), latin),
  chords: outlines(await at(new URL('chords.woff2', FONTS), 680, LETTERS), LETTERS),
  light: outlines(await own('signs-400.woff2'), SIGNS),
  signs: outlines(await own('signs-700.woff2'), SIGNS),
  staff: outlines(staff, STAFF),
};
writeFileSync(new URL('../ui/handout/outlines.json', import.meta.url), `${JSON.stringify(all)}\n`);
