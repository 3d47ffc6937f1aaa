import { DOUBLE_FLAT, DOUBLE_SHARP, LONGEST_SYMBOL, ORDINALS, SIGNS, WORDS, type Word } from './data.ts';
import { setOf, type ChordDegree, type DegreeSet } from './degrees.ts';
import type { NoteName } from './types.ts';

/** A stretch of the symbol and what might stand there instead. */
export interface Edit {
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

/** What is wrong with a symbol, where, and the edits that might mend it, likeliest first. */
export interface Flaw {
  readonly from: number;
  readonly to: number;
  readonly message: string;
  readonly edits: readonly Edit[];
}

/** A degree as typed, with its place. */
export interface Typed {
  readonly degree: ChordDegree;
  readonly from: number;
  readonly to: number;
}

/** The parts of a symbol, as typed; what they mean together is for `assemble.ts` to say. */
export interface Parts {
  root: NoteName;
  bass: NoteName | null;
  quality: 'plain' | 'major' | 'minor' | 'diminished' | 'half-diminished';
  augmented: boolean;
  altered: boolean;
  /** The first number: 0 for none, else 2, 4, 5, 6, 7, 9, 11 or 13. */
  extension: number;
  /** Where that number stands. */
  sizeAt: number;
  seventh: 'none' | 'plain' | 'major' | 'both';
  /** The second and the fourth, where they stand for the third. */
  suspended: DegreeSet;
  /** A bare 4: stands for a major third, and is an eleventh over a minor one. */
  four: boolean;
  /** Degrees typed by their own number or sign. */
  typed: DegreeSet;
  readonly places: Typed[];
  /** Numbers the symbol says to leave out. */
  readonly omitted: { readonly number: number; readonly from: number; readonly to: number }[];
  /** Where the suffix begins and where the symbol ends, brackets around the whole taken off. */
  start: number;
  end: number;
}

const WORDS_BY_LETTER = groupByLetter();

function groupByLetter(): ReadonlyMap<number, readonly (readonly [string, Word])[]> {
  const groups = new Map<number, (readonly [string, Word])[]>();
  for (const entry of WORDS) {
    const letter = entry[0].charCodeAt(0);
    groups.set(letter, [...(groups.get(letter) ?? []), entry]);
  }
  return groups;
}

/** A flaw in a stretch of the symbol, with texts that might stand in its place. */
export const flaw = (from: number, to: number, message: string, ...texts: readonly string[]): Flaw => ({
  from,
  to,
  message,
  edits: texts.map((text) => ({ from, to, text })),
});

/** Reads the parts of a symbol from left to right. Never throws. */
export function scan(typedText: string): Parts | Flaw {
  if (typedText.length > LONGEST_SYMBOL) {
    return flaw(0, typedText.length, `a chord symbol has at most ${LONGEST_SYMBOL} characters`);
  }
  const scanner = new Scanner(withAsciiSigns(typedText));
  return scanner.problem ?? scanner.parts;
}

/** The text with every sign that has an ASCII equivalent replaced, character for character. */
function withAsciiSigns(text: string): string {
  for (let i = 0; i < text.length; i++) {
    if (text.charCodeAt(i) > 127) return Array.from(text, (sign) => SIGNS.get(sign) ?? sign).join('');
  }
  return text;
}

const isDigit = (code: number): boolean => code >= 48 && code <= 57;
const isLetter = (code: number): boolean => code >= 65 && code <= 71;

const OPENING = '([';
const CLOSING = ')]';

class Scanner {
  readonly parts: Parts = {
    root: '',
    bass: null,
    quality: 'plain',
    augmented: false,
    altered: false,
    extension: 0,
    sizeAt: -1,
    seventh: 'none',
    suspended: 0,
    four: false,
    typed: 0,
    places: [],
    omitted: [],
    start: 0,
    end: 0,
  };
  readonly problem: Flaw | null;
  private readonly text: string;
  private readonly lower: string;
  private at = 0;
  private brackets = '';
  /** After a comma or a slash a number is a degree of its own, no longer the chord's size. */
  private listing = false;
  /** Where a bare 7, 9, 11 or 13 ended: a `maj` or `min` right behind it belongs to it. */
  private numberEnd = -1;

  constructor(text: string) {
    this.text = text;
    this.lower = text.toLowerCase();
    this.problem = this.trim() ?? this.readRoot() ?? this.readSuffix();
  }

  private trim(): Flaw | null {
    const { parts, text } = this;
    parts.end = text.trimEnd().length;
    parts.start = text.length - text.trimStart().length;
    if (parts.end === 0) return flaw(0, text.length, 'there is no chord symbol here');
    const bracket = OPENING.indexOf(text[parts.start]!);
    if (bracket >= 0 && text[parts.end - 1] === CLOSING[bracket]) {
      parts.start++;
      parts.end--;
    }
    this.at = parts.start;
    return null;
  }

  private readRoot(): Flaw | null {
    const { parts, text } = this;
    if (!isLetter(text.charCodeAt(this.at))) {
      const wrong = String.fromCodePoint(text.codePointAt(this.at) ?? 32);
      const message = /\p{L}/u.test(wrong)
        ? `${wrong} is not a note name here; a chord begins with a capital letter A to G`
        : 'a chord begins with a note name, a capital letter A to G';
      return flaw(this.at, this.at + wrong.length, message);
    }
    parts.root = this.readName(true);
    parts.start = this.at;
    return null;
  }

  /** A letter and its accidentals. A second flat or sharp before a 5, 6, 9, 11 or 13 of a root belongs to that number. */
  private readName(isRoot: boolean): NoteName {
    const { text } = this;
    const letter = text[this.at++]!;
    const sign = text[this.at];
    if (sign === DOUBLE_FLAT || sign === DOUBLE_SHARP) {
      this.at += 2;
      return letter + (sign === DOUBLE_FLAT ? 'bb' : '##');
    }
    if (sign !== 'b' && sign !== '#') return letter;
    this.at++;
    if (text[this.at] !== sign) return letter + sign;
    if (isRoot && '5691'.includes(text[this.at + 1] ?? ' ')) return letter + sign;
    this.at++;
    return letter + sign + sign;
  }

  private readSuffix(): Flaw | null {
    const { parts, text } = this;
    while (this.at < parts.end) {
      const sign = text[this.at]!;
      const found = isDigit(text.charCodeAt(this.at)) ? this.readNumber() : this.readSign(sign);
      if (found) return found;
    }
    if (this.brackets === '') return null;
    const opened = text.lastIndexOf(this.brackets.at(-1)!);
    const close = CLOSING[OPENING.indexOf(this.brackets.at(-1)!)]!;
    const inside = text.slice(opened, parts.end);
    return flaw(opened, parts.end, 'the bracket is never closed', inside + close, inside.slice(1));
  }

  private readSign(sign: string): Flaw | null {
    switch (sign) {
      case ' ':
      case '.':
        this.at++;
        return null;
      case ',':
      case ';':
        this.at++;
        this.listing = true;
        return null;
      case '(':
      case '[':
        this.brackets += sign;
        this.at++;
        return null;
      case ')':
      case ']':
        return this.closeBracket(sign);
      case '/':
        return this.readSlash();
      case '#':
      case 'b':
      case '+':
      case '-':
      case '♮':
        return this.readAccidental(sign);
      default:
        return this.readWord();
    }
  }

  private closeBracket(sign: string): Flaw | null {
    const { at } = this;
    if (this.brackets.at(-1) !== OPENING[CLOSING.indexOf(sign)]) {
      return flaw(at, at + 1, 'this bracket was never opened', '');
    }
    if (this.text[at - 1] === this.brackets.at(-1)) {
      return flaw(at - 1, at + 1, 'there is nothing between the brackets', '');
    }
    this.brackets = this.brackets.slice(0, -1);
    this.at++;
    return null;
  }

  private readSlash(): Flaw | null {
    const { parts, text } = this;
    const slash = this.at++;
    while (text[this.at] === ' ') this.at++;
    const code = text.charCodeAt(this.at);
    if (this.at >= parts.end) return flaw(slash, parts.end, 'the bass note is missing after the slash', '');
    if (!isLetter(code)) {
      const next = this.lower[this.at]!;
      if (isDigit(code) || '#b+-♮δm'.includes(next) || this.lower.startsWith('sus', this.at)) {
        this.listing = true;
        return null;
      }
      const wrong = text.slice(this.at, parts.end);
      const guess = wrong.replace(/^h/i, 'B').replace(/^[a-g]/, (letter) => letter.toUpperCase());
      return flaw(this.at, parts.end, `${wrong} is not a bass note; a note name A to G goes there`, guess);
    }
    const from = this.at;
    parts.bass = this.readName(false);
    const rest = this.at;
    while (
      this.at < parts.end &&
      (text[this.at] === ' ' || text[this.at] === CLOSING[OPENING.indexOf(this.brackets.at(-1) ?? ' ')])
    ) {
      if (text[this.at] !== ' ') this.brackets = this.brackets.slice(0, -1);
      this.at++;
    }
    if (this.at === parts.end) return null;
    return flaw(from, parts.end, 'a slash takes one bass note and nothing after it', text.slice(from, rest));
  }

  /** The number at the current place, 13, 12, 11 and 10 as one; 0 when there is none. */
  private takeNumber(): number {
    const { text } = this;
    const first = text.charCodeAt(this.at) - 48;
    if (!(first >= 0 && first <= 9) || this.at >= this.parts.end) return 0;
    const second = text.charCodeAt(this.at + 1) - 48;
    if (first === 1 && second >= 0 && second <= 3) {
      this.at += 2;
      return 10 + second;
    }
    this.at++;
    return first;
  }

  private readNumber(): Flaw | null {
    const from = this.at;
    const number = this.takeNumber();
    const { parts } = this;
    const isDegree = this.brackets !== '' || this.listing || parts.extension !== 0;
    if (number === 7) {
      if (parts.seventh !== 'none') {
        return flaw(from, this.at, 'the seventh is there already', '');
      }
      parts.seventh = 'plain';
      if (parts.extension === 0) parts.extension = 7;
      this.numberEnd = this.at;
      return null;
    }
    if (isDegree) return this.addNatural(number, from);
    parts.sizeAt = from;
    switch (number) {
      case 2:
        parts.extension = 2;
        return this.type('9', from);
      case 4:
        parts.extension = 4;
        parts.four = true;
        return null;
      case 5:
        parts.extension = 5;
        return null;
      case 6:
        parts.extension = 6;
        return this.type('6', from);
      case 9:
      case 11:
      case 13:
        parts.extension = number;
        if (parts.seventh === 'none') parts.seventh = 'plain';
        this.numberEnd = this.at;
        return number === 11 ? null : this.type(`${number}`, from);
      default:
        return this.noSuchNumber(number, from);
    }
  }

  private noSuchNumber(number: number, from: number): Flaw {
    return flaw(
      from,
      this.at,
      `${this.text.slice(from, this.at)} is not a size a chord can have`,
      number === 10 ? '9' : '',
      '7',
    );
  }

  /** A plain number as a degree of its own. */
  private addNatural(number: number, from: number): Flaw | null {
    switch (number) {
      case 2:
        return this.type('9', from);
      case 4:
        this.parts.four = true;
        return null;
      case 6:
      case 9:
      case 11:
      case 13:
        return this.type(`${number}`, from);
      case 5:
        return flaw(from, this.at, 'the fifth is there already', '');
      default:
        return this.noSuchNumber(number, from);
    }
  }

  private type(degree: ChordDegree, from: number): Flaw | null {
    const { parts, at: to } = this;
    const bit = setOf(degree);
    if (parts.typed & bit) {
      return flaw(from, to, `${degree} is written twice`, '');
    }
    parts.typed |= bit;
    parts.places.push({ degree, from, to });
    return null;
  }

  private readAccidental(sign: string): Flaw | null {
    const { parts, text } = this;
    const from = this.at;
    const isFirst = from === parts.start;
    const next = text.charCodeAt(from + 1);
    if (sign === '-' && isFirst && !this.startsFifth(from + 1)) {
      this.at++;
      return this.setQuality('minor', from);
    }
    if (sign === '+' && (!isDigit(next) || (isFirst && !this.startsFifth(from + 1)))) {
      this.at++;
      return this.setAugmented(from);
    }
    this.at++;
    if (text[this.at] === sign && sign !== '♮') {
      while (text[this.at] === sign) this.at++;
      const number = this.takeNumber();
      const how = sign === 'b' || sign === '-' ? 'flattened' : 'raised';
      return flaw(
        from,
        this.at,
        `no ${ORDINALS[number] ?? 'degree'} is ${how} twice`,
        sign + (number || ''),
        '',
      );
    }
    const number = this.takeNumber();
    if (number === 0) {
      return flaw(from, from + 1, `"${sign}" needs the number of a degree after it`, '');
    }
    if (sign === '+' && number === 7 && parts.quality === 'minor' && this.brackets === '') {
      return flaw(from, this.at, '+7 after a minor chord is read in two ways: write (maj7) or 7#5', '(maj7)');
    }
    return this.alter(sign === '-' ? 'b' : sign === '+' ? '#' : sign, number, from);
  }

  private startsFifth(at: number): boolean {
    return this.text[at] === '5' && !isDigit(this.text.charCodeAt(at + 1));
  }

  private alter(sign: string, number: number, from: number): Flaw | null {
    const { parts } = this;
    switch (sign + number) {
      case 'b5':
      case '#5':
      case 'b6':
      case 'b9':
      case '#9':
      case '#11':
      case 'b13':
        return this.type((sign + number) as ChordDegree, from);
      case 'b2':
        return this.type('b9', from);
      case '#2':
        return this.type('#9', from);
      case '#4':
        return this.type('#11', from);
      case '#7':
      case '♮7':
        if (parts.seventh !== 'none') return flaw(from, this.at, 'the seventh is there already', '');
        parts.seventh = 'major';
        if (parts.extension === 0) parts.extension = 7;
        return null;
      case '♮5':
        return null;
      case 'b10':
        return flaw(from, this.at, 'a flat tenth is written #9', '#9');
      case 'b7':
        return flaw(from, this.at, 'the minor seventh is written 7, without a flat', '7', '');
      case 'b3':
        return flaw(from, this.at, 'a minor third is written m, right after the root', 'm', '');
    }
    if (sign === '♮') return this.addNatural(number, from);
    const name = ORDINALS[number];
    const how = sign === 'b' ? 'flattened' : 'raised';
    const message = name ? `no ${name} is ${how} in a chord symbol` : `${number} is not a degree of a chord`;
    return flaw(from, this.at, message, sign === 'b' ? 'b9' : '#11', '');
  }

  private setQuality(quality: Parts['quality'], from: number): Flaw | null {
    const { parts } = this;
    const fits = from === parts.start || this.numberEnd === from;
    if (parts.quality !== 'plain' || !(fits || (parts.extension === 0 && parts.typed === 0))) {
      const typed = this.text.slice(from, this.at);
      return flaw(from, this.at, `"${typed}" does not fit after what stands before it`, '');
    }
    parts.quality = quality;
    return null;
  }

  private setAugmented(from: number): Flaw | null {
    const { parts } = this;
    if (parts.augmented) return flaw(from, this.at, 'the fifth is raised already', '');
    parts.augmented = true;
    return null;
  }

  private readWord(): Flaw | null {
    const from = this.at;
    const { text, lower, parts } = this;
    const letter = text[from]!;
    const words = WORDS_BY_LETTER.get(lower.charCodeAt(from));
    const found = words?.find(
      ([spelling]) => lower.startsWith(spelling, from) && this.fitsHere(spelling, from),
    );
    this.at = Math.min(parts.end, from + (found?.[0].length ?? 1));
    const word: Word | null = found?.[1] ?? (letter === 'm' ? 'minor' : letter === 'M' ? 'major' : null);
    switch (word) {
      case null: {
        const end = wordEnd(text, from, parts.end);
        return flaw(from, end, `"${text.slice(from, end)}" means nothing in a chord symbol`);
      }
      case 'major':
      case 'triangle':
        return this.readMajor(word, from);
      case 'minor':
      case 'diminished':
      case 'half-diminished':
        return this.setQuality(word, from);
      case 'augmented':
        return this.setAugmented(from);
      case 'dominant':
        return this.readDominant(from);
      case 'suspended':
        return this.readSuspended();
      case 'altered':
        if (parts.altered) return flaw(from, this.at, 'alt is written twice', '');
        parts.altered = true;
        return null;
      case 'add':
        return this.readAdd(from);
      case 'omit':
        return this.readOmit(from);
    }
  }

  /** Keeps "madd9" minor and "mno3" whole: `ma` and `mi` end where another word begins. */
  private fitsHere(spelling: string, from: number): boolean {
    return (
      spelling !== 'ma' ||
      !(
        this.lower.startsWith('add', from + 1) ||
        this.lower.startsWith('alt', from + 1) ||
        this.lower.startsWith('aug', from + 1)
      )
    );
  }

  private readMajor(word: 'major' | 'triangle', from: number): Flaw | null {
    const { parts, text } = this;
    const follows = this.numberEnd === from;
    let mark = this.at;
    while (text[mark] === ' ' || text[mark] === '.') mark++;
    const back = this.at;
    this.at = mark;
    const number = this.takeNumber();
    const hasSize = number === 7 || number === 9 || number === 11 || number === 13;
    if (!hasSize) this.at = back;
    if (parts.seventh === 'major' || parts.seventh === 'both' || parts.quality === 'major') {
      return flaw(from, this.at, 'major is written twice', '');
    }
    const setsSeventh = hasSize || word === 'triangle' || parts.quality !== 'plain' || follows;
    if (!setsSeventh) return this.setQuality('major', from);
    if (parts.quality === 'plain') parts.quality = 'major';
    if (parts.seventh === 'plain' && parts.quality === 'diminished') {
      parts.seventh = 'both';
      return null;
    }
    if (parts.seventh === 'plain' && parts.quality === 'diminished') {
      parts.seventh = 'both';
      return null;
    }
    if (parts.seventh === 'plain' && parts.extension === 7 && !(follows && !hasSize)) {
      return flaw(from, this.at, 'the symbol asks for a minor and for a major seventh', '');
    }
    parts.seventh = 'major';
    if (hasSize && number > 7) {
      if (parts.extension > 6) return flaw(from, this.at, 'the symbol gives the size of the chord twice', '');
      parts.extension = number;
      parts.sizeAt = mark;
      return number === 11 ? null : this.type(`${number as 9 | 13}`, mark);
    }
    if (parts.extension < 7) parts.extension = 7;
    return null;
  }

  private readDominant(from: number): Flaw | null {
    const { parts } = this;
    if (parts.quality !== 'plain' || parts.extension !== 0)
      return flaw(from, this.at, '"dom" goes right after the root', '');
    if (isDigit(this.text.charCodeAt(this.at))) return null;
    parts.seventh = 'plain';
    parts.extension = 7;
    return null;
  }

  private readSuspended(): Flaw | null {
    const { parts, text } = this;
    let any = false;
    while (this.at < parts.end && (text[this.at] === '2' || text[this.at] === '4')) {
      parts.suspended |= setOf(text[this.at] === '2' ? '2' : '4');
      any = true;
      this.at++;
    }
    if (!any) parts.suspended |= setOf('4');
    return null;
  }

  private readAdd(from: number): Flaw | null {
    const { text } = this;
    while (text[this.at] === ' ' || text[this.at] === '.') this.at++;
    const sign = text[this.at]!;
    const signAt = this.at;
    if (sign === 'b' || sign === '#' || sign === '+' || sign === '-') {
      this.at++;
      const number = this.takeNumber();
      if (number > 5) return this.alter(sign === '-' ? 'b' : sign === '+' ? '#' : sign, number, from);
      return flaw(
        from,
        this.at,
        '"add" needs the number of a degree after it',
        text.slice(signAt, this.at),
        '',
      );
    }
    const number = this.takeNumber();
    if (number === 4) return this.type('11', from);
    if (number === 3) return this.type('3', from);
    if (number === 2 || number === 6 || number === 9 || number === 11 || number === 13)
      return this.addNatural(number, from);
    if (number === 0) return flaw(from, this.at, '"add" needs the number of a degree after it', '');
    return flaw(
      from,
      this.at,
      `a ${ORDINALS[number] ?? number} cannot be added`,
      number === 7 ? '7' : '',
      '',
    );
  }

  private readOmit(from: number): Flaw | null {
    const { parts, text } = this;
    while (text[this.at] === ' ' || text[this.at] === '.') this.at++;
    const number = this.takeNumber();
    if (number === 0) return flaw(from, this.at, 'the number of the degree to leave out is missing', '');
    for (const ending of ['rd', 'th', 'nd', 'st']) if (this.lower.startsWith(ending, this.at)) this.at += 2;
    if (this.at > parts.end) this.at = parts.end;
    parts.omitted.push({ number, from, to: this.at });
    return null;
  }
}

/** Where the unknown word that begins at `from` ends. */
function wordEnd(text: string, from: number, end: number): number {
  const rest = /^(?:\p{L}+|\p{Extended_Pictographic}|[^])/u.exec(text.slice(from, end));
  return from + (rest?.[0].length ?? 1);
}
