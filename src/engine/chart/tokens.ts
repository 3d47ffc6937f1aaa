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
const EDGE = `(?=[${STOP}():\\[\\]/]|$)`;
const sticky = (source: string, flags = '') => new RegExp(source, `y${flags}`);

const BREAK = sticky('\\r\\n|[\\n\\r\\u2028\\u2029]');
const SPACE = sticky('[^\\S\\n\\r\\u2028\\u2029]+');
const BAR = sticky('(:?)([|‖]+\\]?)(:?)|([𝄀𝄁𝄂𝄃𝄄𝄅𝄆𝄇])', 'u');
const NOTE = sticky('["“„]([^"“”\\n\\r\\u2028\\u2029]*)(["“”]?)');
const MARK = sticky('\\[(?:([^\\[\\]|\\n\\r\\u2028\\u2029]*)\\]|([^\\s|\\[\\]]*))');
const SIGN = sticky(`(?:${SIGNS.map(({ pattern }) => `(${pattern})`).join('|')})(?:${EDGE}|(?<=[𝄋𝄌]))`, 'iu');
const TIMES = sticky(`\\(?(?:(\\d+)[x×]|[x×](\\d+))(?:\\)|${EDGE})`, 'iu');
const METRE = sticky(`(\\d+)/(\\d+)${EDGE}|([𝄴𝄵])`, 'u');
const ENDING = sticky('(\\d{1,4}(?:[.,–-]{1,2}\\s?\\d{1,4}){0,15})\\.(?!\\d)');
const SIMILE = sticky('%{1,2}|[𝄎𝄏]', 'u');
const SLASH = sticky(`/+(?=[${STOP}():\\[\\]]|$)`, 'u');
const NO_CHORD = sticky(`(?:N\\.C\\.?|NC)${EDGE}`, 'iu');
const RUN = sticky(`[^${STOP}():]+`, 'u');
const SPACED_BRACKET = sticky('\\([^()|"“”\\n\\r\\u2028\\u2029]{0,32}\\)');

/**
 * Cuts a chart's text into tokens, in time linear in its length. Total: whatever is no sign of a lead
 * sheet becomes a `word`, for the reader to judge.
 */
export function tokenize(text: string): Token[] {
  const tokens: Token[] = [];
  let at = 0;
  let depth = 0;
  const match = (pattern: RegExp): RegExpExecArray | null => {
    pattern.lastIndex = at;
    return pattern.exec(text);
  };
  const take = (found: RegExpExecArray): Place => {
    const from = at;
    at += found[0].length;
    return { from, to: at };
  };

  while (at < text.length) {
    let found = match(SPACE);
    if (found) take(found);
    else if ((found = match(BREAK))) {
      depth = 0;
      tokens.push({ kind: 'break', ...take(found) });
    } else if ((found = match(BAR))) {
      depth = 0;
      tokens.push({ kind: 'bar', ...barLine(found), ...take(found) });
    } else if ((found = match(NOTE))) {
      tokens.push({ kind: 'note', text: found[1]!.trim(), closed: found[2] !== '', ...take(found) });
    } else if ((found = match(MARK))) {
      const closed = found[1] !== undefined;
      const name = (found[1] ?? found[2]!).trim().replace(/\s+/g, ' ');
      tokens.push({ kind: 'mark', text: name, closed, ...take(found) });
    } else if ((found = match(SIGN))) {
      const which = SIGNS[found.slice(1).findIndex((group) => group !== undefined)]!;
      tokens.push({ kind: 'sign', sign: which.sign, place: which.place, ...take(found) });
    } else if ((found = match(TIMES))) {
      tokens.push({ kind: 'times', count: Number(found[1] ?? found[2]), ...take(found) });
    } else if ((found = match(METRE))) {
      const [count, unit] =
        found[3] === '𝄴' ? [4, 4] : found[3] === '𝄵' ? [2, 2] : [Number(found[1]), Number(found[2])];
      tokens.push({ kind: 'metre', count, unit, ...take(found) });
    } else if ((found = match(ENDING))) {
      tokens.push({ kind: 'ending', passes: passesOf(found[1]!), ...take(found) });
    } else if ((found = match(SIMILE))) {
      tokens.push({ kind: 'simile', bars: found[0] === '%%' || found[0] === '𝄏' ? 2 : 1, ...take(found) });
    } else if ((found = match(SLASH))) {
      tokens.push({ kind: 'slash', beats: found[0].length, ...take(found) });
    } else if ((found = match(NO_CHORD))) {
      tokens.push({ kind: 'no-chord', ...take(found) });
    } else if (text[at] === '(') {
      depth++;
      tokens.push({ kind: 'open', from: at, to: ++at });
    } else if (text[at] === ')') {
      if (depth > 0) depth--;
      tokens.push({ kind: 'close', from: at, to: ++at });
    } else {
      const from = at;
      at = wordEnd(text, at);
      const slashes = /[^/](\/+)$/.exec(text.slice(Math.max(from, at - 40), at))?.[1]?.length ?? 0;
      tokens.push({ kind: 'word', from, to: at - slashes });
      if (slashes > 0) tokens.push({ kind: 'slash', beats: slashes, from: at - slashes, to: at });
    }
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
