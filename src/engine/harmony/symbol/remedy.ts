import { GERMAN_NAMES } from './data.ts';
import type { Edit, Flaw } from './parts.ts';

/**
 * The readable symbol nearest to one that cannot be read: what the flaw itself proposes, then the root put
 * right, then two characters swapped, one left out, and the rest cut off.
 * @param isReadable says whether a candidate is a chord symbol
 * @returns null when nothing near can be read
 */
export function nearestSymbol(
  symbol: string,
  flaw: Flaw,
  isReadable: (candidate: string) => boolean,
): string | null {
  if (symbol === '' || symbol.length > LONGEST_MENDED) return null;
  for (const candidate of candidates(symbol, flaw)) if (isReadable(candidate)) return candidate;
  return null;
}

/** Longer symbols are not mended: what was meant is anybody's guess. */
const LONGEST_MENDED = 32;

function* candidates(symbol: string, { from, to, edits }: Flaw): Generator<string> {
  for (const edit of edits) yield apply(symbol, edit);
  if (from <= 2) {
    const capital = symbol[0]!.toUpperCase() + symbol.slice(1);
    yield capital;
    for (const [german, name] of GERMAN_NAMES) yield capital.replace(german, name);
  }
  if (from === 0 && to < symbol.length) return;
  for (let at = Math.max(1, from - 1); at <= to && at < symbol.length - 1; at++) {
    yield symbol.slice(0, at) + symbol[at + 1]! + symbol[at]! + symbol.slice(at + 2);
  }
  for (let at = Math.max(1, from - 1); at <= to; at++)
    yield apply(symbol, { from: at, to: at + 1, text: '' });
  yield symbol.slice(0, from);
}

/** The symbol with an edit made; brackets and commas that are left with nothing between go too. */
const apply = (symbol: string, { from, to, text }: Edit): string =>
  (symbol.slice(0, from) + text + symbol.slice(to))
    .replace(/,(?=[,)\]])/g, '')
    .replace(/([([]),/g, '$1')
    .replace(/\(\s*\)|\[\s*\]/g, '');
