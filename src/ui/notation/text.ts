import { fitSymbol, symbolParts } from '../chord/symbol.ts';
import { CHORD_FACE, TEXT_FACE } from './faces.ts';

export const SVG = 'http://www.w3.org/2000/svg';

/** A text at a place, in the colour of what it stands in. */
export function svgText(x: number, y: number, attributes: Readonly<Record<string, string>>): SVGTextElement {
  const element = document.createElementNS(SVG, 'text');
  const all = { x: x.toFixed(1), y: y.toFixed(1), fill: 'currentColor', stroke: 'none', ...attributes };
  for (const [name, value] of Object.entries(all)) element.setAttribute(name, value);
  return element;
}

/** Size a chord symbol would like, in units of the drawing. */
const SYMBOL = 19;

/** A chord symbol in our own three sizes, in the room it has. */
export function chordText(symbol: string, x: number, y: number, room: number): SVGTextElement {
  const { size, stretch } = fitSymbol(symbol, Math.max(room, 14), SYMBOL);
  const { letter, accidental, quality, raised, bass } = symbolParts(symbol);
  const element = svgText(x, y, {
    class: 'chord-symbol',
    'font-family': CHORD_FACE,
    'font-weight': '680',
    'font-size': size.toFixed(2),
    'font-stretch': `${stretch}%`,
  });
  const piece = (content: string, scale: number, lift: number, weight: number) => {
    if (content === '') return;
    const span = document.createElementNS(SVG, 'tspan');
    span.setAttribute('font-size', (size * scale).toFixed(2));
    span.setAttribute('font-weight', String(weight));
    if (lift !== 0) span.setAttribute('dy', (-lift * size).toFixed(2));
    span.textContent = content;
    element.append(span);
  };
  const lift = 0.26;
  piece(letter + accidental, 1, 0, 680);
  piece(quality, 0.68, 0, 620);
  piece(raised, 0.62, lift, 620);
  if (bass !== '') piece(`/${bass}`, 0.7, raised === '' ? 0 : -lift, 560);
  return element;
}

/** A degree under its note. */
export function smallText(content: string, x: number, y: number): SVGTextElement {
  const element = svgText(x, y, {
    class: 'degree',
    'font-family': TEXT_FACE,
    'font-weight': '560',
    'font-size': '11.5',
    'text-anchor': 'middle',
  });
  element.textContent = content;
  return element;
}
