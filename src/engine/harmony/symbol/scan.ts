import { SIGNS } from './data.ts';
import { readRoot, readSlash } from './note.ts';
import { isDigit, readAlteration, readNumber } from './number.ts';
import { beginScan, flaw, type Flaw, type Parts, type Scan } from './parts.ts';
import { readWord, setAugmented, setQuality } from './word.ts';

/** Reads the parts of a symbol from left to right. Never throws. */
export function scanSymbol(typed: string): Parts | Flaw {
  const scan = beginScan(withAsciiSigns(typed));
  unwrap(scan);
  return readRoot(scan) ?? readSuffix(scan) ?? scan.parts;
}

/** The text with every sign that has an ASCII equivalent replaced, place for place. */
function withAsciiSigns(text: string): string {
  for (let i = 0; i < text.length; i++) {
    if (text.charCodeAt(i) > 127) return Array.from(text, (sign) => SIGNS.get(sign) ?? sign).join('');
  }
  return text;
}

/** Takes one pair of brackets off that stands around the whole. */
function unwrap(scan: Scan): void {
  const { parts, text } = scan;
  const pair = text.charAt(0) + text.charAt(parts.end - 1);
  if (pair !== '()' && pair !== '[]') return;
  scan.at++;
  parts.end--;
}

function readSuffix(scan: Scan): Flaw | null {
  const { parts, text } = scan;
  while (scan.at < parts.end) {
    const found = isDigit(text.charCodeAt(scan.at)) ? readNumber(scan) : readSign(scan);
    if (found) return found;
  }
  const open = scan.brackets.at(-1);
  if (open === undefined) return null;
  const from = text.lastIndexOf(open, parts.end - 1);
  const inside = text.slice(from, parts.end);
  return flaw(from, parts.end, 'the bracket is never closed', inside + closing(open), inside.slice(1));
}

function readSign(scan: Scan): Flaw | null {
  const sign = scan.text[scan.at]!;
  switch (sign) {
    case ',':
    case ';':
      scan.listing = true;
      scan.at++;
      return null;
    case ' ':
    case '.':
      scan.at++;
      return null;
    case '(':
    case '[':
      scan.brackets += sign;
      scan.at++;
      return null;
    case ')':
    case ']':
      return closeBracket(scan, sign);
    case '/':
      return readSlash(scan);
    case '+':
    case '-':
      return readPlusOrMinus(scan, sign);
    case '#':
    case 'b':
    case '♮':
      return readAlteration(scan);
    default:
      return readWord(scan);
  }
}

const closing = (open: string): string => (open === '(' ? ')' : ']');

function closeBracket(scan: Scan, sign: string): Flaw | null {
  const { at, text } = scan;
  const open = scan.brackets.at(-1);
  if (open === undefined) return flaw(at, at + 1, 'this bracket was never opened', '');
  if (sign !== closing(open))
    return flaw(at, at + 1, `a ${open} is closed by a ${closing(open)}`, closing(open));
  if (text[at - 1] === open) return flaw(at - 1, at + 1, 'there is nothing between the brackets', '');
  scan.brackets = scan.brackets.slice(0, -1);
  scan.at++;
  return null;
}

/**
 * Right behind the root a minus is minor and a plus is augmented; elsewhere, and before a lone 5, they
 * stand for flat and sharp. A plus without a number raises the fifth.
 */
function readPlusOrMinus(scan: Scan, sign: '+' | '-'): Flaw | null {
  const { text, parts, at } = scan;
  const next = text.charCodeAt(at + 1);
  const alters = at !== parts.start || (text[at + 1] === '5' && !isDigit(text.charCodeAt(at + 2)));
  if (sign === '-' && alters) return readAlteration(scan);
  if (sign === '+' && alters && isDigit(next)) return readAlteration(scan);
  scan.at++;
  return sign === '-' ? setQuality(scan, 'minor', at) : setAugmented(scan, at);
}
