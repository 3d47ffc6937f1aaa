import { SVG } from '../notation/text.ts';
import { loadOutlines, outlined, type Outlines } from './outline.ts';
import { PX } from './paper.ts';

/** Between drawings that are one figure, px. */
const BETWEEN = 7;

/**
 * A figure as an SVG file that needs nothing else: black on white, in its printed size, its letters as outlines.
 * @param drawings as they stand in the page, from the top down
 * @param title what it shows, for whoever does not see it
 */
export async function figureFile(drawings: readonly SVGSVGElement[], title: string): Promise<string> {
  return figureOf(drawings, title, await loadOutlines());
}

function figureOf(drawings: readonly SVGSVGElement[], title: string, outlines: Outlines): string {
  const boxes = drawings.map(sizeOf);
  const width = Math.max(...boxes.map((box) => box.width));
  const height = boxes.reduce((sum, box) => sum + box.height + BETWEEN, -BETWEEN);
  const file = element('svg', {
    xmlns: SVG,
    width: `${(width / PX).toFixed(2)}mm`,
    height: `${(height / PX).toFixed(2)}mm`,
    viewBox: `0 0 ${width} ${height}`,
    role: 'img',
  });
  file.append(element('title', {}, title), element('rect', { width, height, fill: '#fff' }));
  let y = 0;
  for (const [i, drawing] of drawings.entries()) {
    const part = copyOf(drawing, outlines);
    for (const [name, value] of Object.entries({ y, ...boxes[i]! })) part.setAttribute(name, String(value));
    file.append(part);
    y += boxes[i]!.height + BETWEEN;
  }
  return new XMLSerializer().serializeToString(file);
}

/** Its size on the page, px. */
function sizeOf(drawing: SVGSVGElement): { width: number; height: number } {
  const { width, height } = getComputedStyle(drawing);
  return { width: parseFloat(width), height: parseFloat(height) };
}

/** What a figure keeps in a file: how it is drawn, and nothing that belongs to the page. */
const PAGE_ONLY = [
  'class',
  'style',
  'role',
  'aria-label',
  'aria-hidden',
  'data-figure',
  'pointer-events',
  'id',
];

function copyOf(drawing: SVGSVGElement, outlines: Outlines): SVGElement {
  const copy = drawing.cloneNode(true) as SVGSVGElement;
  const texts = [...drawing.querySelectorAll('text')];
  for (const [i, text] of [...copy.querySelectorAll('text')].entries()) {
    text.replaceWith(outlined(texts[i]!, outlines));
  }
  for (const part of [copy, ...copy.querySelectorAll('*')]) {
    for (const name of PAGE_ONLY) part.removeAttribute(name);
    for (const { name, value } of [...part.attributes]) {
      if (name.startsWith('font-') && part.localName !== 'text' && part.closest('text') === null) {
        part.removeAttribute(name);
      } else if (value === 'currentColor') part.setAttribute(name, '#000');
    }
  }
  const comments = document.createTreeWalker(copy, NodeFilter.SHOW_COMMENT);
  const found: Node[] = [];
  while (comments.nextNode()) found.push(comments.currentNode);
  for (const comment of found) comment.parentNode?.removeChild(comment);
  return copy;
}

function element(name: string, attributes: Readonly<Record<string, string | number>>, text = ''): SVGElement {
  const made = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) {
    if (key !== 'xmlns') made.setAttribute(key, String(value));
  }
  made.textContent = text;
  return made;
}
