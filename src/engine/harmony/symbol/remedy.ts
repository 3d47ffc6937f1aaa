import { OTHER_NAMES } from './data.ts';
import type { Edit, Flaw } from './parts.ts';

/**
 * The readable symbol nearest to one that cannot be read: what the flaw itself proposes, then a note
 * name put right, then two letters swapped, one left out, and the rest cut off.
 * @param isReadable says whether a candidate is a chord symbol
 * @returns the symbol as the player would type it, or null when nothing near can be read
 */
export function nearestSymbol(
  text: string,
  flaw: Flaw,
  isReadable: (symbol: string) => boolean,
): string | null {
  const seen = new Set([text]);
  for (const candidate of candidates(text, flaw)) {
    if (seen.has(candidate)) continue;
    seen.add(candidate);
    if (isReadable(candidate)) return candidate;
  }
  return null;
}

function* candidates(text: string, flaw: Flaw): Generator<string> {
  const symbol = text.trim();
  if (symbol === '' || symbol.length > 32) return;
  const lead = text.length - text.trimStart().length;
  const from = flaw.from - lead;
  const to = flaw.to - lead;
  for (const { from, to, text } of flaw.edits)
    yield apply(symbol, { from: from - lead, to: to - lead, text });
  if (from <= 2) {
    for (const [other, name] of OTHER_NAMES) if (other.test(symbol)) yield symbol.replace(other, name);
    const capital = symbol[0]!.toUpperCase() + symbol.slice(1);
    yield capital;
    for (const [other, name] of OTHER_NAMES) if (other.test(capital)) yield capital.replace(other, name);
    if (from === 0 && to < symbol.length) return;
  }
  for (let at = Math.max(1, from - 1); at <= to && at < symbol.length - 1; at++) {
    yield symbol.slice(0, at) + symbol[at + 1]! + symbol[at]! + symbol.slice(at + 2);
  }
  for (let at = Math.max(1, from - 1); at <= to && at < symbol.length; at++) {
    yield apply(symbol, { from: at, to: at + 1, text: '' });
  }
  yield apply(symbol, { from, to, text: '' });
  yield symbol.slice(0, from);
}

/** The symbol with an edit made; brackets and commas that are left with nothing between go too. */
const apply = (symbol: string, { from, to, text }: Edit): string =>
  (symbol.slice(0, from) + text + symbol.slice(to))
    .replace(/,(?=[,)\]])/g, '')
    .replace(/(?<=[([]),/g, '')
    .replace(/\(\s*\)|\[\s*\]/g, '');
