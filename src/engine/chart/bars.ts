import { LineBreaks } from './line-breaks.ts';
import { quote, type Place, type Reporter } from './problems.ts';
import { append, emptyBar, type Item, type RawBar, type TokenOf } from './raw-bar.ts';
import type { Token } from './tokens.ts';

/**
 * Groups the tokens of `text` into bars. What stands at the head of a bar (mark, ending, metre, Segno,
 * Coda, words) waits for the first chord after it, over bar lines and line breaks; what stands at its
 * end (To Coda, Fine, D.C. …) belongs to the bar before when it stands alone.
 */
export function groupBars(text: string, tokens: readonly Token[], report: Reporter): RawBar[] {
  const grouper = new Grouper(text, report);
  for (const token of tokens) grouper.take(token);
  return grouper.finish();
}

class Grouper {
  readonly #text: string;
  readonly #report: Reporter;
  readonly #bars: RawBar[] = [];
  readonly #breaks = new LineBreaks();
  #open = emptyBar(0);
  /** The bar line just read, with nothing but spaces after it. */
  #line: TokenOf<'bar'> | null = null;
  /** The bar whose repeat has just ended, for a number of times to follow. */
  #repeated: RawBar | null = null;
  #bracket: Place | null = null;
  /** True while slashes hold the last item. */
  #holding = false;

  constructor(text: string, report: Reporter) {
    this.#text = text;
    this.#report = report;
  }

  take(token: Token): void {
    const line = this.#line;
    const repeated = this.#repeated;
    this.#line = null;
    this.#repeated = null;
    switch (token.kind) {
      case 'bar':
        return this.#barLine(token, line);
      case 'break':
        return this.#lineBreak(token, line);
      case 'times':
        return this.#times(token, repeated);
      case 'word':
      case 'no-chord':
        return this.#add(token, token.kind);
      case 'simile':
        return this.#add(token, token.bars === 2 ? 'double-simile' : 'simile');
      case 'slash':
        return this.#slash(token);
      case 'open':
      case 'close':
        return this.#roundBracket(token);
      case 'mark':
        return this.#mark(token);
      case 'note':
        return this.#note(token);
      case 'metre':
        return this.#metre(token);
      case 'ending':
        return this.#ending(token);
      case 'sign':
        if (token.place === 'start') this.#headOfBar(token, quote(this.#typed(token)));
        this.#open.signs = append(this.#open.signs, [token]);
    }
  }

  finish(): RawBar[] {
    if (this.#open.items.length > 0) this.#push(this.#text.length);
    this.#closeBracket();
    this.#signsGoBack();
    this.#leftOver();
    this.#breaks.report(this.#report);
    for (const bar of this.#bars) {
      const [only, second] = bar.items;
      if (only && !second) bar.simile = only.kind === 'simile' ? 1 : only.kind === 'double-simile' ? 2 : 0;
    }
    return this.#bars;
  }

  #barLine(token: TokenOf<'bar'>, before: TokenOf<'bar'> | null): void {
    const touching = before?.to === token.from && !(before.starts && token.ends);
    this.#breaks.sawBarLine();
    if (this.#open.items.length > 0 || (before !== null && !touching)) {
      if (this.#open.items.length === 0) this.#open.from = this.#open.to = before!.to;
      this.#open.repeatEnd = token.ends ? token : null;
      this.#open.doubleEnd = token.double;
      this.#push(token.to);
    } else this.#sameBoundary(token);
    if (token.starts) this.#open.repeatStart ??= token;
    this.#line = token;
    this.#repeated = token.ends ? (this.#bars.at(-1) ?? null) : null;
  }

  /** A further bar line where a bar has ended already: what it says is said of that bar. */
  #sameBoundary(token: TokenOf<'bar'>): void {
    this.#signsGoBack();
    this.#open.from = this.#open.to = token.to;
    const last = this.#bars.at(-1);
    if (last && token.ends) last.repeatEnd ??= token;
    if (last && token.double) last.doubleEnd = true;
    if (!last && token.ends) {
      this.#report.error(
        token,
        'There is nothing to repeat before this sign',
        'Write chords before :|, or |: to begin a repeat.',
      );
    }
  }

  #lineBreak(token: Place, before: TokenOf<'bar'> | null): void {
    if (this.#open.items.length > 0) {
      this.#push(token.to);
      this.#breaks.endedBar(token);
      return;
    }
    if (before !== null) this.#breaks.endedAtLine();
    this.#signsGoBack();
    this.#open.from = this.#open.to = token.to;
  }

  #times(token: TokenOf<'times'>, repeated: RawBar | null): void {
    if (repeated === null) {
      this.#report.error(
        token,
        `${quote(this.#typed(token))} does not follow the end of a repeat`,
        'A number of times stands right after :|, e.g. :| 3x.',
      );
    } else if (repeated.times) {
      this.#report.warning(token, 'The number of times is written twice', 'Leave one of them out.');
    } else repeated.times = token;
  }

  #slash(token: TokenOf<'slash'>): void {
    const last = this.#open.items.at(-1);
    if (last && this.#holding) {
      last.weight += token.beats;
      this.#extend(token);
    } else this.#add(token, 'hold', token.beats);
    this.#open.slashed = true;
  }

  #roundBracket(token: TokenOf<'open' | 'close'>): void {
    if (token.kind === 'open' && this.#bracket) {
      this.#report.warning(
        token,
        'A bracket opens inside a bracket',
        'Write one pair of round brackets around an optional chord.',
      );
    } else if (token.kind === 'close' && !this.#bracket) {
      this.#report.warning(token, 'This bracket was never opened', 'Write ( before the optional chord.');
    }
    this.#bracket = token.kind === 'open' ? token : null;
    this.#extend(token);
  }

  #mark(token: TokenOf<'mark'>): void {
    const remedy = 'Write a letter or a word in square brackets: [A].';
    this.#headOfBar(token, 'A rehearsal mark');
    if (!token.closed) this.#report.warning(token, 'This rehearsal mark is never closed', remedy);
    if (token.text === '') this.#report.warning(token, 'This rehearsal mark is empty', remedy);
    else this.#open.marks = append(this.#open.marks, [token]);
  }

  #note(token: TokenOf<'note'>): void {
    if (!token.closed)
      this.#report.warning(token, 'These words are never closed', 'Write " after the last word.');
    if (token.text !== '') this.#open.notes = append(this.#open.notes, [token.text]);
  }

  #metre(token: TokenOf<'metre'>): void {
    this.#headOfBar(token, 'A time signature');
    if (this.#open.metre)
      this.#report.warning(
        this.#open.metre,
        'Two time signatures stand at one bar',
        'Leave one of them out; the later one counts.',
      );
    this.#open.metre = token;
  }

  #ending(token: TokenOf<'ending'>): void {
    this.#headOfBar(token, 'An ending');
    if (this.#open.ending)
      this.#report.warning(token, 'Two endings stand at one bar', 'Write them as one: 1,2.');
    this.#open.ending = token;
  }

  #typed({ from, to }: Place): string {
    return this.#text.slice(from, to);
  }

  #add(token: Place, kind: Item['kind'], weight = 1): void {
    const { from, to } = token;
    this.#breaks.sawChord();
    this.#extend(token);
    this.#open.items.push({ kind, from, to, weight, optional: this.#bracket !== null });
    this.#holding = kind === 'word' || kind === 'no-chord' || kind === 'hold';
  }

  #extend({ from, to }: Place): void {
    if (this.#open.items.length === 0 && this.#open.from === this.#open.to) this.#open.from = from;
    this.#open.to = to;
  }

  /** The open bar is complete; the next one begins at offset `next`. */
  #push(next: number): void {
    this.#closeBracket();
    this.#bars.push(this.#open);
    this.#open = emptyBar(next);
    this.#holding = false;
  }

  #closeBracket(): void {
    if (this.#bracket)
      this.#report.warning(
        this.#bracket,
        'This bracket is never closed',
        'Write ) after the optional chord.',
      );
    this.#bracket = null;
  }

  /** Before something that only stands at the head of a bar: a bar line is taken to stand there. */
  #headOfBar(token: Token, what: string): void {
    if (this.#open.items.length === 0) return this.#signsGoBack();
    this.#report.warning(token, `${what} stands in the middle of a bar`, 'Write a bar line | before it.');
    this.#push(token.from);
  }

  /** Signs that stand at the end of a bar, found before any chord, belong to the bar before. */
  #signsGoBack(): void {
    const { signs } = this.#open;
    if (signs.length === 0) return;
    const back = signs.filter(({ place }) => place === 'end');
    const last = this.#bars.at(-1);
    if (last) last.signs = append(last.signs, back);
    else
      for (const sign of back)
        this.#report.error(sign, 'There is no bar before this sign', 'Write it after the bar it belongs to.');
    this.#open.signs = signs.filter(({ place }) => place === 'start');
  }

  /** What waits for a bar that never comes. */
  #leftOver(): void {
    const remedy = 'Write a chord after it, or leave it out.';
    const { repeatStart, marks, signs, metre, ending } = this.#open;
    if (repeatStart) this.#report.error(repeatStart, 'Nothing follows the start of this repeat', remedy);
    for (const head of [...marks, ...signs, metre, ending])
      if (head) this.#report.warning(head, 'No bar follows this', remedy);
  }
}
