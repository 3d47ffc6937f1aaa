import {
  degreeInterval,
  readChord,
  readHarmony,
  transposeName,
  type Harmony,
  type HarmonyDegree,
  type NoteName,
} from '../../engine/index.ts';
import { symbolOf } from './symbol.ts';
import { child, numberOf, textOf, type Node } from './tree.ts';

/** A chord symbol as a chart types it. */
export interface ReadSymbol {
  readonly text: string;
  readonly optional: boolean;
  /** What of it was not understood; null when all was. */
  readonly missed: string | null;
}

const TYPES: readonly string[] = ['add', 'alter', 'subtract'] satisfies HarmonyDegree['type'][];

/** Letters that would end a symbol in a chart's text. */
const UNFIT = /[\s|"“”„%[\]():𝄀-𝄿]/gu;
const LONGEST = 40;

/**
 * What a chart types for a `harmony` element.
 * @returns null where there is nothing to type; then `missed` of the caller says so
 */
export function readSymbol(node: Node): ReadSymbol | string {
  const kindNode = child(node, 'kind');
  const kind = kindNode?.text ?? '';
  const printed = kindNode?.attributes['text'] ?? null;
  const rootNode = child(node, 'root');
  const shownRoot = child(rootNode, 'root-step')?.attributes['text'] ?? null;
  const optional = shownRoot?.startsWith('(') === true || /^\(N\.C\.\)$/.test(printed ?? '');
  if (kind === 'none') return { text: 'N.C.', optional, missed: null };
  const root = nameOf(rootNode, 'root');
  if (root === null) {
    const what = ['function', 'numeral'].find((name) => child(node, name) !== undefined);
    return what ? `a chord named by its ${what} only` : 'a chord symbol without a root';
  }
  const bass = nameOf(child(node, 'bass'), 'bass');
  const harmony: Harmony = { root, kind, degrees: degreesOf(node), bass: bass ?? inverted(node, root, kind) };
  const suffix = printed !== null && optional ? printed.replace(/\)$/, '') : printed;
  const text = symbolOf(harmony, suffix ?? '');
  if (text !== null) return { text, optional, missed: secondChord(node) };
  return unread(harmony, shownRoot === '' ? (printed ?? '') : null, printed);
}

function nameOf(node: Node | undefined, of: 'root' | 'bass'): NoteName | null {
  const step = textOf(node, `${of}-step`);
  if (step === null || !/^[A-G]$/.test(step)) return null;
  const alter = Math.round(numberOf(node, `${of}-alter`) ?? 0);
  if (Math.abs(alter) > 2) return null;
  return step + (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter));
}

function degreesOf(node: Node): HarmonyDegree[] {
  return node.children
    .filter(({ name }) => name === 'degree')
    .map((degree) => ({
      value: numberOf(degree, 'degree-value') ?? 0,
      alter: Math.max(-3, Math.min(3, Math.round(numberOf(degree, 'degree-alter') ?? 0))),
      type: textOf(degree, 'degree-type') ?? '',
    }))
    .filter((degree): degree is HarmonyDegree => TYPES.includes(degree.type));
}

/** The bass of a chord given as an inversion: its first is on the third. */
function inverted(node: Node, root: NoteName, kind: string): NoteName | null {
  const inversion = numberOf(node, 'inversion') ?? 0;
  const chord = readHarmony({ root, kind, degrees: [], bass: null });
  const degree = inversion > 0 && chord.ok ? chord.value.degrees[inversion] : undefined;
  return degree === undefined ? null : transposeName(root, degreeInterval(degree));
}

/** A harmony element may stack one chord on another; a chart has one at a time. */
function secondChord({ children }: Node): string | null {
  const kinds = children.filter(({ name }) => name === 'kind').length;
  return kinds > 1 ? 'a second chord stacked on the first was left out' : null;
}

/** A symbol that stays in the chart as a marked gap. */
function unread({ root, kind }: Harmony, whole: string | null, printed: string | null): ReadSymbol | string {
  const wanted = whole ?? `${root}${printed === null || printed === '' ? kind : printed}`;
  const cleaned = wanted.replace(UNFIT, '').slice(0, LONGEST);
  if (cleaned === '') return 'a chord symbol without letters';
  const text = readChord(cleaned).ok && whole === null ? `${root}?${kind.replace(UNFIT, '')}` : cleaned;
  const named = kind === '' ? 'has no kind' : `is of the kind “${kind.slice(0, LONGEST)}”`;
  return { text, optional: false, missed: `the chord on ${root} ${named}, which has no chord symbol` };
}
