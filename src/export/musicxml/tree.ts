import { SaxesParser } from 'saxes';

/** An element of a document, as far as it is kept. */
export interface Node {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: Node[];
  /** The letters directly inside it, without space around them. */
  text: string;
}

/** A document, read as far as it could be. */
export interface Tree {
  readonly root: Node | null;
  /** Why reading stopped before the end; null when it did not. */
  readonly broken: string | null;
}

/**
 * Bounds that keep any document readable within a second and a few megabytes. Our choice: a symphony in
 * full score is below them, and a lead sheet below a thousandth.
 */
export const BOUNDS = Object.freeze({ letters: 24_000_000, elements: 400_000, depth: 48, text: 2000 });

/** What chords are not read from: how things look and sound. Nothing inside is kept. */
const SKIPPED = new Set([
  ...['defaults', 'credit', 'appearance', 'part-group', 'midi-instrument', 'midi-device', 'score-instrument'],
  ...['notations', 'lyric', 'beam', 'stem', 'notehead', 'accidental', 'play', 'listen', 'pitch', 'print'],
  ...['frame', 'figured-bass', 'instrument', 'miscellaneous', 'staff-details'],
]);

/**
 * Reads an XML document into a tree. A document type definition is passed over: no entity is defined by
 * it, nothing is fetched. At the first fault reading stops and what was read so far is kept.
 */
export function readTree(document: string): Tree {
  const parser = new SaxesParser<{ xmlns: false }>({ xmlns: false });
  const open: Node[] = [];
  let root: Node | null = null;
  let broken: string | null = null;
  let elements = 0;
  /** How deep within an element that is skipped. */
  let skipping = 0;

  parser.on('opentag', ({ name, attributes }) => {
    if (skipping > 0 || (SKIPPED.has(name) && root !== null)) {
      skipping++;
      return;
    }
    if (++elements > BOUNDS.elements) throw new Stop('it has more elements than any score');
    if (open.length >= BOUNDS.depth) throw new Stop('its elements are nested deeper than in any score');
    const node: Node = { name, attributes, children: [], text: '' };
    open.at(-1)?.children.push(node);
    root ??= node;
    open.push(node);
  });
  parser.on('closetag', () => {
    if (skipping > 0) {
      skipping--;
      return;
    }
    const node = open.pop();
    if (node) node.text = node.text.trim();
  });
  const add = (letters: string) => {
    const node = open.at(-1);
    if (skipping === 0 && node && node.text.length < BOUNDS.text) {
      node.text += letters.slice(0, BOUNDS.text - node.text.length);
    }
  };
  parser.on('text', add);
  parser.on('cdata', add);
  parser.on('error', ({ message }) => {
    throw new Stop(message);
  });
  try {
    if (document.length > BOUNDS.letters) throw new Stop('it is longer than any score');
    parser.write(document).close();
  } catch (reason) {
    if (!(reason instanceof Stop)) throw reason;
    broken = reason.message;
  }
  for (const node of open) node.text = node.text.trim();
  return { root, broken };
}

class Stop extends Error {}

/** The first child called `name`. */
export const child = (node: Node | undefined, name: string): Node | undefined =>
  node?.children.find((one) => one.name === name);

/** The text of the child called `name`; null where there is none. */
export const textOf = (node: Node | undefined, name: string): string | null =>
  child(node, name)?.text ?? null;

/** The number in the child called `name`; null where there is none. */
export function numberOf(node: Node | undefined, name: string): number | null {
  const written = textOf(node, name);
  if (written === null || written === '') return null;
  const value = Number(written);
  return Number.isFinite(value) ? value : null;
}
