import type { Place, Reporter } from './problems.ts';
import { quote } from './problems.ts';
import type { Token } from './tokens.ts';

type TokenOf<K extends Token['kind']> = Extract<Token, { readonly kind: K }>;

/** Something that takes up time in a bar. */
export interface Item extends Place {
  readonly kind: 'word' | 'no-chord' | 'hold' | 'simile' | 'double-simile';
  /** Shares of the bar: one for itself and one for each slash after it. */
  weight: number;
  readonly optional: boolean;
}

/** A bar as its tokens stand in the text, before lengths are known. */
export interface RawBar {
  from: number;
  to: number;
  items: Item[];
  /** True when a slash was written, so that lengths count in beats. */
  slashed: boolean;
  /** Two when the bar is a single two-bar simile mark, one for a one-bar mark. */
  simile: 0 | 1 | 2;
  repeatStart: Place | null;
  repeatEnd: Place | null;
  times: TokenOf<'times'> | null;
  doubleEnd: boolean;
  marks: TokenOf<'mark'>[];
  notes: string[];
  metre: TokenOf<'metre'> | null;
  ending: { passes: readonly number[]; from: number; to: number } | null;
  signs: TokenOf<'sign'>[];
}

/** Stands for an empty list in most bars, so that a long chart stays light. Never added to. */
const NONE: never[] = [];
const append = <T>(list: T[], items: readonly T[]): T[] => {
  if (list.length === 0) return [...items];
  list.push(...items);
  return list;
};

const emptyBar = (at: number): RawBar => ({
  from: at,
  to: at,
  items: [],
  slashed: false,
  simile: 0,
  repeatStart: null,
  repeatEnd: null,
  times: null,
  doubleEnd: false,
  marks: NONE,
  notes: NONE,
  metre: null,
  ending: null,
  signs: NONE,
});

/**
 * Groups the tokens of `text` into bars. What stands at the head of a bar (mark, ending, metre, Segno,
 * Coda, words) waits for the first chord after it, over bar lines and line breaks; what stands at its
 * end (To Coda, Fine, D.C. …) belongs to the bar before when it stands alone.
 */
export function groupBars(text: string, tokens: readonly Token[], report: Reporter): RawBar[] {
  const bars: RawBar[] = [];
  let open = emptyBar(0);
  /** The bar line just read, with nothing but spaces and a number of times after it. */
  let line: TokenOf<'bar'> | null = null;
  let bracket: TokenOf<'open' | 'close'> | null = null;
  /** True while slashes hold the last item. */
  let holding = false;
  /** The bar whose repeat has just ended, for a number of times to follow. */
  let repeated: RawBar | null = null;
  const bareBreaks: Place[] = [];
  let barredBreak = false;
  /** A line break that ended a bar, until the next line shows whether a bar line follows. */
  let brokenAt: Place | null = null;

  const closeBracket = () => {
    if (bracket) report.warning(bracket, 'This bracket is never closed', 'Write ) after the optional chord.');
    bracket = null;
  };
  const push = (next: number) => {
    closeBracket();
    bars.push(open);
    open = emptyBar(next);
    holding = false;
  };
  const lastSigns = () => {
    if (open.signs.length === 0) return;
    const stay = open.signs.filter(({ place }) => place === 'start');
    const back = open.signs.filter(({ place }) => place === 'end');
    const last = bars.at(-1);
    if (last) last.signs = append(last.signs, back);
    else
      for (const sign of back)
        report.error(sign, 'There is no bar before this sign', 'Write it after the bar it belongs to.');
    open.signs = stay;
  };

  /** Before something that only stands at the head of a bar. */
  const headOfBar = (token: Token, what: string) => {
    if (open.items.length === 0) return lastSigns();
    report.warning(token, `${what} stands in the middle of a bar`, 'Write a bar line | before it.');
    push(token.from);
  };
  const extend = (token: Place) => {
    if (open.items.length === 0 && open.from === open.to) open.from = token.from;
    open.to = token.to;
  };
  const add = (token: Place, kind: Item['kind']) => {
    if (brokenAt) bareBreaks.push(brokenAt);
    extend(token);
    open.items.push({ kind, from: token.from, to: token.to, weight: 1, optional: bracket !== null });
    holding = !kind.endsWith('simile');
  };
  for (const [index, token] of tokens.entries()) {
    switch (token.kind) {
      case 'bar': {
        const previous = tokens[index - 1];
        const touching = previous?.kind === 'bar' && previous.to === token.from;
        const emptyBetween = line !== null && (!touching || (line.starts && token.ends));
        if (brokenAt) barredBreak = true;
        if (open.items.length > 0) {
          open.repeatEnd = token.ends ? token : null;
          open.doubleEnd = token.double;
          push(token.to);
        } else if (emptyBetween) {
          open.from = open.to = line!.to;
          open.repeatEnd = token.ends ? token : null;
          open.doubleEnd = token.double;
          push(token.to);
        } else {
          lastSigns();
          open.from = open.to = token.to;
          const last = bars.at(-1);
          if (last && token.ends) last.repeatEnd ??= token;
          if (last && token.double) last.doubleEnd = true;
          if (!last && token.ends)
            report.error(
              token,
              'There is nothing to repeat before this sign',
              'Write chords before :|, or |: to begin a repeat.',
            );
        }
        if (token.starts) open.repeatStart ??= token;
        brokenAt = null;
        line = token;
        repeated = token.ends ? (bars.at(-1) ?? null) : null;
        continue;
      }
      case 'break':
        if (open.items.length > 0) {
          push(token.to);
          brokenAt = token;
        } else {
          if (line !== null) barredBreak = true;
          lastSigns();
          open.from = open.to = token.to;
        }
        line = null;
        repeated = null;
        continue;
      case 'times':
        if (repeated === null) {
          report.error(
            token,
            `${quote(text.slice(token.from, token.to))} does not follow the end of a repeat`,
            'A number of times stands right after :|, e.g. :| 3x.',
          );
        } else if (repeated.times) {
          report.warning(token, 'The number of times is written twice', 'Leave one of them out.');
        } else repeated.times = token;
        line = null;
        continue;
      case 'mark':
        headOfBar(token, 'A rehearsal mark');
        if (!token.closed)
          report.warning(
            token,
            'This rehearsal mark is never closed',
            'Write it in a pair of square brackets: [A].',
          );
        if (token.text === '')
          report.warning(
            token,
            'This rehearsal mark is empty',
            'Write a letter or a word in the brackets: [A].',
          );
        else open.marks = append(open.marks, [token]);
        break;
      case 'note':
        if (!token.closed)
          report.warning(token, 'These words are never closed', 'Write " after the last word.');
        if (token.text !== '') open.notes = append(open.notes, [token.text]);
        break;
      case 'metre':
        headOfBar(token, 'A time signature');
        if (open.metre)
          report.warning(
            open.metre,
            'Two time signatures stand at one bar',
            'Leave one of them out; the later one counts.',
          );
        open.metre = token;
        break;
      case 'ending':
        headOfBar(token, 'An ending');
        if (open.ending) report.warning(token, 'Two endings stand at one bar', 'Write them as one: 1,2.');
        open.ending = { passes: token.passes, from: token.from, to: token.to };
        break;
      case 'sign':
        if (token.place === 'start') headOfBar(token, quote(text.slice(token.from, token.to)));
        open.signs = append(open.signs, [token]);
        break;
      case 'slash': {
        const last = open.items.at(-1);
        if (last && holding) {
          last.weight += token.beats;
          extend(token);
        } else {
          add(token, 'hold');
          open.items.at(-1)!.weight = token.beats;
        }
        open.slashed = true;
        break;
      }
      case 'simile':
        add(token, token.bars === 2 ? 'double-simile' : 'simile');
        break;
      case 'no-chord':
        add(token, 'no-chord');
        break;
      case 'open':
        if (bracket)
          report.warning(
            token,
            'A bracket opens inside a bracket',
            'Write one pair of round brackets around an optional chord.',
          );
        bracket = token;
        extend(token);
        break;
      case 'close':
        if (!bracket)
          report.warning(token, 'This bracket was never opened', 'Write ( before the optional chord.');
        bracket = null;
        extend(token);
        break;
      case 'word':
        add(token, 'word');
        break;
    }
    line = null;
    repeated = null;
    if (brokenAt && open.items.length > 0) brokenAt = null;
  }

  if (open.items.length > 0) push(text.length);
  closeBracket();
  lastSigns();
  leftOver(open, report);
  if (barredBreak)
    for (const place of bareBreaks)
      report.warning(
        place,
        'No bar line stands at the end of this line',
        'The line ends the bar. Write | here, or write the bar on one line.',
      );
  for (const bar of bars) {
    const [only, second] = bar.items;
    if (only && !second) bar.simile = only.kind === 'simile' ? 1 : only.kind === 'double-simile' ? 2 : 0;
  }
  return bars;
}

/** What waits for a bar that never comes. */
function leftOver(open: RawBar, report: Reporter): void {
  const remedy = 'Write a chord after it, or leave it out.';
  if (open.repeatStart) report.error(open.repeatStart, 'Nothing follows the start of this repeat', remedy);
  const heads = [
    ...open.marks,
    ...open.signs,
    ...(open.metre ? [open.metre] : []),
    ...(open.ending ? [open.ending] : []),
  ];
  for (const head of heads) report.warning(head, 'No bar follows this', remedy);
}
