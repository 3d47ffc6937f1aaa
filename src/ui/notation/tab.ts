import { SVG, svgText, textsAlike } from './text.ts';
import { STAFF_FACE, TEXT_FACE } from './faces.ts';

/** Between two strings, in units of the drawing. */
export const STRING_GAP = 12;
/** The signs that head tablature, for six strings and for fewer, in the face of the staff. */
const CLEF = { six: '\uE06D', four: '\uE06E' };
const FIGURES = 12.5;

/** A fret to print. */
export interface TabFret {
  readonly x: number;
  /** Counted from the highest. */
  readonly string: number;
  readonly fret: number;
}

/** Tablature of one line: strings with gaps where figures stand, bar lines, a sign at its head. */
export function tabulature(
  { x, top, width, strings }: { x: number; top: number; width: number; strings: number },
  bars: readonly number[],
  frets: readonly TabFret[],
): SVGGElement {
  const group = document.createElementNS(SVG, 'g');
  group.setAttribute('class', 'tab');
  const y = (string: number) => top + (string - 1) * STRING_GAP;
  let path = '';
  for (let string = 1; string <= strings; string++) {
    let from = x;
    for (const fret of frets.filter((each) => each.string === string)) {
      const half = fret.fret > 9 ? 9.5 : 6;
      if (fret.x - half > from) path += `M${from.toFixed(1)} ${y(string)}H${(fret.x - half).toFixed(1)}`;
      from = fret.x + half;
    }
    path += `M${from.toFixed(1)} ${y(string)}H${(x + width).toFixed(1)}`;
  }
  for (const bar of bars) path += `M${bar.toFixed(1)} ${top}V${y(strings)}`;
  const lines = document.createElementNS(SVG, 'path');
  for (const [name, value] of Object.entries({
    d: path,
    stroke: 'currentColor',
    'stroke-width': '1',
    fill: 'none',
  })) {
    lines.setAttribute(name, value);
  }
  group.append(lines);
  const sign = svgText(x + 7, top + ((strings - 1) * STRING_GAP) / 2, {
    'font-family': STAFF_FACE,
    'font-size': String(strings >= 6 ? 36 : 32),
  });
  sign.textContent = strings >= 6 ? CLEF.six : CLEF.four;
  group.append(sign);
  const figures = frets.map((fret) => ({
    x: fret.x,
    y: y(fret.string) + FIGURES * 0.35,
    text: String(fret.fret),
  }));
  const look = {
    'font-family': TEXT_FACE,
    'font-size': String(FIGURES),
    'font-weight': '620',
    'text-anchor': 'middle',
  };
  group.append(textsAlike(look, figures));
  return group;
}
