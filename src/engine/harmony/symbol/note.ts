import type { NoteName } from '../types.ts';
import { DOUBLE_FLAT, DOUBLE_SHARP } from './data.ts';
import { isDigit, skipSpace } from './number.ts';
import { flaw, type Flaw, type Scan } from './parts.ts';

/** True for the capital letters A to G. */
const isLetter = (code: number): boolean => code >= 65 && code <= 71;

/** Reads the root. */
export function readRoot(scan: Scan): Flaw | null {
  skipSpace(scan);
  const { at, text, parts } = scan;
  if (at >= parts.end) return flaw(0, text.length, 'there is no chord symbol here');
  if (!isLetter(text.charCodeAt(at))) {
    if (/^n\.? ?c\.?$/i.test(text.slice(at, parts.end))) {
      return flaw(at, parts.end, 'N.C. says that no chord is played');
    }
    const wrong = String.fromCodePoint(text.codePointAt(at)!);
    const message = `${wrong} is not a note name here; a chord begins with a capital letter A to G`;
    return flaw(at, at + wrong.length, message);
  }
  parts.root = readName(scan, true);
  parts.start = scan.at;
  return null;
}

/** Reads the slash and what is behind it: the bass note, or a degree as in 6/9. */
export function readSlash(scan: Scan): Flaw | null {
  const { parts, text } = scan;
  const slash = scan.at++;
  skipSpace(scan);
  const from = scan.at;
  if (from >= parts.end) return flaw(slash, parts.end, 'the bass note is missing after the slash', '');
  if (!isLetter(text.charCodeAt(from))) {
    if (beginsDegree(scan, from)) {
      scan.listing = true;
      return null;
    }
    const wrong = text.slice(from, parts.end);
    const name = /^[a-h][b#]?/i.exec(wrong)?.[0] ?? '';
    const capital = name.charAt(0).toUpperCase().replace('H', 'B') + name.slice(1);
    return flaw(from, parts.end, `${wrong} is not a bass note; a letter A to G goes there`, capital);
  }
  parts.bass = readName(scan, false);
  const named = text.slice(from, scan.at);
  const behind = /[^)\]\s]/.test(text.slice(scan.at, parts.end));
  return behind ? flaw(from, parts.end, 'a slash takes one bass note and nothing after it', named) : null;
}

/** True for what may follow the slash of a 6/9 or an m/maj7. */
function beginsDegree({ text, lower }: Scan, at: number): boolean {
  const code = text.charCodeAt(at);
  if (isDigit(code)) return true;
  if ('#b+-♮'.includes(text[at]!)) return isDigit(text.charCodeAt(at + 1));
  return /^(ma|m\d|δ|sus|add|no\d|omit)/.test(lower.slice(at, at + 4));
}

/**
 * Reads a letter and its accidentals. A second flat or sharp that stands before a 5, 6, 9, 11 or 13
 * belongs to that number: Bbb9 is a B flat with a flat ninth. One sign for both (𝄫) always belongs to
 * the root.
 */
function readName(scan: Scan, isRoot: boolean): NoteName {
  const { text } = scan;
  const letter = text[scan.at++]!;
  const sign = text[scan.at];
  if (sign === DOUBLE_FLAT || sign === DOUBLE_SHARP) {
    scan.at += 2;
    return letter + (sign === DOUBLE_FLAT ? 'bb' : '##');
  }
  if (sign !== 'b' && sign !== '#') return letter;
  scan.at++;
  if (text[scan.at] !== sign) return letter + sign;
  if (isRoot && '5691'.includes(text[scan.at + 1] ?? ' ')) return letter + sign;
  scan.at++;
  return letter + sign + sign;
}
