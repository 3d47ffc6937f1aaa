import { barAt, independent, insideOf, writtenOut } from './content.ts';
import { tokenize, type Token } from './tokens.ts';
import type { Bar, Chart } from './types.ts';

type Line = Extract<Token, { readonly kind: 'bar' }>;

/**
 * The text without a bar. What stands at its head (mark, ending, time signature, words) goes to the bar
 * after it, what stands at its end (Fine, D.C. …) to the bar before; repeats close up around it.
 * @throws RangeError when the chart has no such bar
 */
export function removeBar(chart: Chart, index: number): string {
  const own = independent(barAt(chart, index).simile === 2 ? writtenOut(chart, index) : chart, index + 1);
  const { text } = own;
  const bar = barAt(own, index);
  const { before, after, head, tail } = surroundings(own, bar);
  const left = before?.kind === 'bar' ? before : null;
  const right = after?.kind === 'bar' ? after : null;
  const from = left?.from ?? before?.to ?? 0;
  const to = right?.to ?? after?.from ?? text.length;
  const line = closedUp(left, right, index > 0, tail.length > 0);
  // An empty bar stays empty only while nothing stands between its own two bar lines.
  const isEmpty = (at: number) => own.bars[at] !== undefined && own.bars[at].from === own.bars[at].to;
  const opening = tail.length > 0 && isEmpty(index - 1) ? '|' : '';
  const closing = head.length > 0 && isEmpty(index + 1) ? '|' : '';
  const insert = [opening, ...tail, line, ...head, closing].filter(Boolean).join(' ');
  const edited = text.slice(0, from) + insert + spaceAfter(text, to, insert) + text.slice(to);
  return withoutBareLine(edited, from);
}

const spaceAfter = (text: string, to: number, insert: string) =>
  insert === '' || to >= text.length || /\s/.test(text[to]!) ? '' : ' ';

/** The bar lines or line breaks on both sides of a bar, and what stands between them beside its chords. */
function surroundings(chart: Chart, bar: Bar) {
  const { text } = chart;
  const tokens = tokenize(text);
  let first = tokens.findIndex(({ from, to }) => from >= bar.from && to > bar.from);
  if (first < 0) first = tokens.length;
  let last = first;
  while (last < tokens.length && tokens[last]!.from < bar.to) last++;
  let left = first - 1;
  while (left >= 0 && !isBoundary(tokens[left]!)) left--;
  let right = last;
  while (right < tokens.length && !isBoundary(tokens[right]!)) right++;
  const typed = (token: Token) => text.slice(token.from, token.to);
  const around = [...tokens.slice(left + 1, first), ...tokens.slice(last, right)];
  const isTail = (token: Token) => token.kind === 'sign' && token.place === 'end';
  const inside = insideOf(chart, bar);
  return {
    before: tokens[left],
    after: tokens[right],
    head: [
      ...around.filter((token) => !isTail(token)).map(typed),
      ...inside.filter((each) => each.startsWith('"')),
    ],
    tail: [...inside.filter((each) => !each.startsWith('"')), ...around.filter(isTail).map(typed)],
  };
}

const isBoundary = ({ kind }: Token) => kind === 'bar' || kind === 'break';

/** The bar line that is left where the bar between two bar lines goes. */
function closedUp(left: Line | null, right: Line | null, follows: boolean, needed: boolean): string {
  if (left === null && right === null) return '';
  const around = left !== null && right !== null && left.starts && right.ends;
  const starts = (right?.starts ?? false) || ((left?.starts ?? false) && !around);
  const ends = follows && ((left?.ends ?? false) || ((right?.ends ?? false) && !around));
  const double = follows && ((left?.double ?? false) || (right?.double ?? false));
  if (left === null && !starts && !ends && !double && !needed) return '';
  return `${ends ? ':' : ''}${double ? '||' : '|'}${starts ? ':' : ''}`;
}

/** `text` without the line at offset `at` when nothing but a plain bar line is left in it. */
function withoutBareLine(text: string, at: number): string {
  const from = text.lastIndexOf('\n', at - 1) + 1;
  const end = text.indexOf('\n', at);
  const to = end < 0 ? text.length : end;
  if (!/^[ \t]*\|?[ \t]*\r?$/.test(text.slice(from, to))) return text;
  return end < 0 ? text.slice(0, from).replace(/\r?\n$/, '') : text.slice(0, from) + text.slice(end + 1);
}
