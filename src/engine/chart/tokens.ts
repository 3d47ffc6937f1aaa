import { LIMITS, SIGNS } from './data.ts';
import type { Place } from './problems.ts';
import type { Sign } from './types.ts';

/** A piece of the text. Spaces between pieces are no tokens. */
export type Token = Place &
  (
    | { readonly kind: 'break' }
    | { readonly kind: 'bar'; readonly ends: boolean; readonly double: boolean; readonly starts: boolean }
    | { readonly kind: 'times'; readonly count: number }
    | { readonly kind: 'ending'; readonly passes: readonly number[] }
    | { readonly kind: 'mark'; readonly text: string; readonly closed: boolean }
    | { readonly kind: 'note'; readonly text: string; readonly closed: boolean }
    | { readonly kind: 'metre'; readonly count: number; readonly unit: number }
    | { readonly kind: 'sign'; readonly sign: Sign; readonly place: 'start' | 'end' }
    | { readonly kind: 'slash'; readonly beats: number }
    | { readonly kind: 'simile'; readonly bars: 1 | 2 }
    | { readonly kind: 'no-chord' }
    | { readonly kind: 'open' | 'close' }
    | { readonly kind: 'word' }
  );

/** What ends a word: space, a bar line, a quote, a simile mark, the Unicode bar lines and road-map signs. */
const STOP = '\\s|‖"“”„%𝄀𝄁𝄂𝄃𝄄𝄅𝄆𝄇𝄋𝄌𝄎𝄏𝄴𝄵';
const END = `(?=[${STOP}():\\[\\]]|$)`;
const EDGE = `(?=[${STOP}():\\[\\]/]|$)`;
const sticky = (source: string, flags = '') => new RegExp(source, `yu${flags}`);

/** One kind of token: the letters it can begin with, its pattern, and what it says. */
interface Rule {
  readonly first: string;
  readonly pattern: RegExp;
  readonly read: (found: RegExpExecArray, from: number, to: number) => Token | null;
}

/** In the order they are tried. A sign of Unicode's musical block is told by its first code unit. */
const RULES: readonly Rule[] = [
  { first: ' \t\u00a0', pattern: sticky('[^\\S\\n\\r\\u2028\\u2029]+'), read: () => null },
  {
    first: '\n\r\u2028\u2029',
    pattern: sticky('\\r\\n|[\\n\\r\\u2028\\u2029]'),
    read: (_, from, to) => ({ kind: 'break', from, to }),
  },
  {
    first: '|‖:𝄀',
    pattern: sticky('(:?)([|‖]+\\]?)(:?)|([𝄀𝄁𝄂𝄃𝄄𝄅𝄆𝄇])'),
    read: (found, from, to) => ({ kind: 'bar', ...barLine(found), from, to }),
  },
  {
    first: '"“„',
    pattern: sticky('["“„]([^"“”\\n\\r\\u2028\\u2029]*)(["“”]?)'),
    read: ([, text = '', end], from, to) => ({
      kind: 'note',
      text: text.trim(),
      closed: Boolean(end),
      from,
      to,
    }),
  },
  {
    first: '[',
    pattern: sticky('\\[(?:([^\\[\\]|\\n\\r\\u2028\\u2029]*)\\]|([^\\s|\\[\\]]*))'),
    read: ([, closed, rest = ''], from, to) => {
      const text = (closed ?? rest).trim().replace(/\s+/g, ' ');
      return { kind: 'mark', text, closed: closed !== undefined, from, to };
    },
  },
  {
    first: 'CDFSTcdfst𝄋',
    pattern: sticky(`(?:${SIGNS.map(({ pattern }) => `(${pattern})`).join('|')})(?:${EDGE}|(?<=[𝄋𝄌]))`, 'i'),
    read: ([, ...groups], from, to) => {
      const { sign, place: where } = SIGNS[groups.findIndex(Boolean)]!;
      return { kind: 'sign', sign, place: where, from, to };
    },
  },
  {
    first: '(0123456789xX×',
    pattern: sticky(`\\(?(?:(\\d+)[x×]|[x×](\\d+))(?:\\)|${EDGE})`, 'i'),
    read: ([, before, after], from, to) => ({ kind: 'times', count: Number(before ?? after), from, to }),
  },
  {
    first: '0123456789𝄴',
    pattern: sticky(`(\\d+)/(\\d+)${EDGE}|([𝄴𝄵])`),
    read: ([, count, unit, sign], from, to) => {
      if (sign === undefined) return { kind: 'metre', count: Number(count), unit: Number(unit), from, to };
      return sign === '𝄴'
        ? { kind: 'metre', count: 4, unit: 4, from, to }
        : { kind: 'metre', count: 2, unit: 2, from, to };
    },
  },
  {
    first: '0123456789',
    pattern: sticky('(\\d{1,4}(?:[.,–\\-]{1,2}\\s?\\d{1,4}){0,15})\\.(?!\\d)'),
    read: ([, passes = ''], from, to) => ({ kind: 'ending', passes: passesOf(passes), from, to }),
  },
  {
    first: '%𝄎',
    pattern: sticky('%{1,2}|[𝄎𝄏]'),
    read: ([sign], from, to) => ({ kind: 'simile', bars: sign === '%%' || sign === '𝄏' ? 2 : 1, from, to }),
  },
  {
    first: '/',
    pattern: sticky(`/+${END}`),
    read: ([slashes], from, to) => ({ kind: 'slash', beats: slashes.length, from, to }),
  },
  {
    first: 'Nn',
    pattern: sticky(`(?:N\\.C\\.?|NC)${EDGE}`, 'i'),
    read: (_, from, to) => ({ kind: 'no-chord', from, to }),
  },
  { first: '(', pattern: sticky('\\('), read: (_, from, to) => ({ kind: 'open', from, to }) },
  { first: ')', pattern: sticky('\\)'), read: (_, from, to) => ({ kind: 'close', from, to }) },
  {
    // Any other space there is.
    first: '',
    pattern: sticky('[^\\S\\n\\r\\u2028\\u2029]+'),
    read: () => null,
  },
];

/** The rules that a token beginning with a code unit can follow; any other code unit follows the last. */
const BY_FIRST = new Map<number, readonly Rule[]>();
for (const rule of RULES)
  for (const letter of rule.first)
    BY_FIRST.set(letter.charCodeAt(0), [...(BY_FIRST.get(letter.charCodeAt(0)) ?? []), rule]);
const OTHER: readonly Rule[] = RULES.slice(-1);
const LATIN = 0x80;

const RUN = sticky(`[^${STOP}():]+`);
const SPACED_BRACKET = sticky('\\([^()|"“”\\n\\r\\u2028\\u2029]{0,32}\\)');
/** Alterations in brackets set apart from their chord, as in "Cm (maj7)"; no chord begins with such a letter. */
const SET_APART = sticky('[ \\t]{1,3}\\([^A-GNn()|"“”%/\\s][^()|"“”\\n\\r\\u2028\\u2029]{0,31}\\)');
const SLASHES_AFTER = /[^/](\/+)$/;
/** How many slashes right behind a word are looked for. */
const MOST_SLASHES = 40;

/**
 * Cuts a chart's text into tokens, in time linear in its length. Total: whatever is no sign of a lead
 * sheet becomes a `word`, for the reader to judge.
 */
export function tokenize(text: string): Token[] {
  const tokens: Token[] = [];
  let at = 0;
  const follow = (rules: readonly Rule[]): boolean => {
    for (const { pattern, read } of rules) {
      pattern.lastIndex = at;
      const found = pattern.exec(text);
      if (found === null) continue;
      const from = at;
      at += found[0].length;
      const token = read(found, from, at);
      if (token) tokens.push(token);
      return true;
    }
    return false;
  };
  while (at < text.length) {
    const first = text.charCodeAt(at);
    const rules = BY_FIRST.get(first) ?? (first < LATIN && first > 0x20 ? [] : OTHER);
    if (follow(rules)) continue;
    const from = at;
    at = wordEnd(text, at);
    const tail = text.slice(Math.max(from, at - MOST_SLASHES), at);
    const slashes = tail.endsWith('/') ? (SLASHES_AFTER.exec(tail)?.[1]?.length ?? 0) : 0;
    tokens.push({ kind: 'word', from, to: at - slashes });
    if (slashes > 0) tokens.push({ kind: 'slash', beats: slashes, from: at - slashes, to: at });
  }
  return tokens;
}

/** Where the word at `from` ends: brackets that open inside it belong to it, with the spaces in them. */
function wordEnd(text: string, from: number): number {
  let at = from;
  let depth = 0;
  while (at < text.length) {
    RUN.lastIndex = at;
    const run = RUN.exec(text);
    if (run) {
      at += run[0].length;
      continue;
    }
    const letter = text[at]!;
    if (letter === '(') {
      SPACED_BRACKET.lastIndex = at;
      const bracket = SPACED_BRACKET.exec(text);
      if (bracket) at += bracket[0].length;
      else {
        depth++;
        at++;
      }
    } else if (letter === ')' && depth > 0) {
      depth--;
      at++;
    } else if (depth === 0 && at > from && (letter === ' ' || letter === '\t')) {
      SET_APART.lastIndex = at;
      const apart = SET_APART.exec(text);
      if (!apart) break;
      at += apart[0].length;
    } else if (letter === ':' && !/[|‖]/.test(text[at + 1] ?? '')) at++;
    else break;
  }
  return at > from ? at : from + (text.codePointAt(from)! > 0xffff ? 2 : 1);
}

function barLine(found: RegExpExecArray): { ends: boolean; double: boolean; starts: boolean } {
  const [, before = '', lines = '', after = '', sign] = found;
  if (sign !== undefined) return { ends: sign === '𝄇', double: '𝄁𝄂𝄃'.includes(sign), starts: sign === '𝄆' };
  return { ends: before !== '', double: lines !== '|', starts: after !== '' };
}

/** "1,2" → [1, 2]; "1-3" → [1, 2, 3]. In order, each once. */
function passesOf(text: string): number[] {
  const passes = new Set<number>();
  let last = 0;
  let range = false;
  for (const part of text.match(/\d+|[–-]/g) ?? []) {
    if (part === '-' || part === '–') range = true;
    else {
      const number = Math.min(Number(part), LIMITS.times + 1);
      for (let pass = range ? Math.min(last + 1, number) : number; pass <= number; pass++) passes.add(pass);
      last = number;
      range = false;
    }
  }
  return [...passes].sort((a, b) => a - b);
}
