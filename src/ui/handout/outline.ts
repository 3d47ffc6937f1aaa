import { SVG } from '../notation/text.ts';
import address from './outlines.json?url';

/** Outlines of characters: their advance and their path, in thousandths of the em. */
type Face = Readonly<Record<string, readonly [advance: number, path: string]>>;
export type Outlines = Readonly<Record<'text' | 'chords' | 'light' | 'signs' | 'staff', Face>>;

let loading: Promise<Outlines> | null = null;

/** The outlines, from the app's own files; what could not be loaded is tried again the next time. */
export function loadOutlines(): Promise<Outlines> {
  loading ??= fetch(address)
    .then((answer) => answer.json() as Promise<Outlines>)
    .catch((reason: unknown) => {
      loading = null;
      throw reason;
    });
  return loading;
}

/**
 * A text as paths, each character where the browser has set it, in its size and as narrow as it is there. A text
 * with a character that has no outline stays a text.
 * @param text as it stands in the page
 */
export function outlined(text: SVGTextElement, outlines: Outlines): SVGElement {
  const group = document.createElementNS(SVG, 'g');
  const walker = document.createTreeWalker(text, NodeFilter.SHOW_TEXT);
  let index = 0;
  for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
    const style = getComputedStyle(node.parentElement!);
    for (const character of node.textContent ?? '') {
      const at = index;
      index += character.length;
      if (at >= text.getNumberOfChars()) return asText(text);
      if (character.trim() === '') continue;
      const found = glyphOf(character, style, outlines);
      if (found === null) return asText(text);
      const [advance, path] = found;
      const size = parseFloat(style.fontSize) / 1000;
      const { x, y } = text.getStartPositionOfChar(at);
      const { width } = text.getExtentOfChar(at);
      const narrow = advance > 0 && width > 0 ? width / (advance * size) : 1;
      const letter = document.createElementNS(SVG, 'path');
      letter.setAttribute('d', path);
      const scale = `${short(size * Math.min(1.25, Math.max(0.6, narrow)))} ${short(size)}`;
      letter.setAttribute('transform', `translate(${short(x)} ${short(y)}) scale(${scale})`);
      letter.setAttribute('fill', style.fill);
      group.append(letter);
    }
  }
  group.setAttribute('stroke', 'none');
  return group;
}

const short = (value: number): string => String(Math.round(value * 1e4) / 1e4);

/** The signs that stand first in every stack of faces; the last two only among chord symbols. */
const SIGNS = 'Δ△♭♯♮𝄫𝄪𝄎';
const CHORD_SIGNS = '°ø';

function glyphOf(character: string, { fontFamily, fontWeight }: CSSStyleDeclaration, outlines: Outlines) {
  if (fontFamily.includes('Staff')) return outlines.staff[character] ?? null;
  const isChord = fontFamily.includes('Chords');
  if (SIGNS.includes(character) || (isChord && CHORD_SIGNS.includes(character))) {
    return outlines[Number(fontWeight) <= 550 ? 'light' : 'signs'][character] ?? null;
  }
  return (isChord ? outlines.chords[character] : undefined) ?? outlines.text[character] ?? null;
}

/** A text that stays one, in a face that every program has. */
function asText(text: SVGTextElement): SVGElement {
  const copy = text.cloneNode(true) as SVGElement;
  copy.setAttribute('font-family', 'sans-serif');
  copy.setAttribute('font-size', getComputedStyle(text).fontSize);
  return copy;
}
