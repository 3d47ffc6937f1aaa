import { fitSymbol, symbolParts } from '../chord/symbol.ts';
import { CHORD_FACE, TEXT_FACE } from './faces.ts';

export const SVG = 'http://www.w3.org/2000/svg';

/** In the colour of what it stands in. */
const INK = { fill: 'currentColor', stroke: 'none' };

/** A text at a place. */
export function svgText(x: number, y: number, attributes: Readonly<Record<string, string>>): SVGTextElement {
  const element = document.createElementNS(SVG, 'text');
  return set(element, { x: x.toFixed(1), y: y.toFixed(1), ...INK, ...attributes });
}

/** Texts that look alike: how they look is said once. */
export function textsAlike(
  look: Readonly<Record<string, string>>,
  texts: readonly { readonly x: number; readonly y: number; readonly text: string }[],
): SVGGElement {
  const group = set(document.createElementNS(SVG, 'g'), { ...INK, ...look });
  for (const { x, y, text } of texts) {
    const element = document.createElementNS(SVG, 'text');
    group.append(set(element, { x: x.toFixed(1), y: y.toFixed(1) }));
    element.textContent = text;
  }
  return group;
}

function set<E extends SVGElement>(element: E, attributes: Readonly<Record<string, string>>): E {
  for (const name in attributes) element.setAttribute(name, attributes[name]!);
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

/** How degrees under the notes look. */
export const DEGREES = {
  class: 'degrees',
  'font-family': TEXT_FACE,
  'font-weight': '560',
  'font-size': '11.5',
  'text-anchor': 'middle',
};
