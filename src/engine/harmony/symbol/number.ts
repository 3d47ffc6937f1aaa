import { setOf, type ChordDegree } from '../degrees.ts';
import { ORDINALS } from './data.ts';
import { flaw, likelier, type Flaw, type Parts, type Scan } from './parts.ts';

export const isDigit = (code: number): boolean => code >= 48 && code <= 57;

/** Goes on to the next character that says something. */
export function skipSpace(scan: Scan): void {
  while (scan.text[scan.at] === ' ' || scan.text[scan.at] === '.') scan.at++;
}

/** Takes the number at the current place, 10 to 13 as one; 0 when there is none. */
export function takeNumber(scan: Scan): number {
  const { text } = scan;
  const first = text.charCodeAt(scan.at) - 48;
  if (!(first >= 0 && first <= 9)) return 0;
  const second = text.charCodeAt(scan.at + 1) - 48;
  if (first === 1 && second >= 0 && second <= 3) {
    scan.at += 2;
    return 10 + second;
  }
  scan.at++;
  return first;
}

/** Reads a bare number: the chord's size, or a degree of its own inside brackets, in a list or after the size. */
export function readNumber(scan: Scan): Flaw | null {
  const { parts } = scan;
  const from = scan.at;
  const number = takeNumber(scan);
  if (number === 7) {
    if (parts.seventh !== 'none') return flaw(from, scan.at, 'the seventh is there already', '');
    parts.seventh = 'plain';
    if (parts.size === 0) setSize(parts, 7, from);
    scan.numberEnd = scan.at;
    return null;
  }
  if (scan.brackets !== '' || scan.listing || parts.size !== 0) return addNatural(scan, number, from);
  switch (number) {
    case 4:
      parts.four = true;
      break;
    case 5:
      break;
    case 2:
    case 6:
      setSize(parts, number, from);
      return typeDegree(scan, number === 2 ? '9' : '6', from);
    case 9:
    case 11:
    case 13:
      setSize(parts, number, from);
      if (parts.seventh === 'none') parts.seventh = 'plain';
      scan.numberEnd = scan.at;
      return number === 11 ? null : typeDegree(scan, `${number}`, from);
    default:
      return flaw(
        from,
        scan.at,
        `${number} is not a number a chord is named by`,
        number === 10 ? '9' : '',
        '7',
      );
  }
  setSize(parts, number, from);
  return null;
}

export function setSize(parts: Parts, size: number, at: number): void {
  parts.size = size;
  parts.sizeAt = at;
}

/** Adds a plain number as a degree of its own. */
export function addNatural(scan: Scan, number: number, from: number): Flaw | null {
  switch (number) {
    case 2:
      return typeDegree(scan, '9', from);
    case 4:
      scan.parts.four = true;
      return null;
    case 6:
    case 9:
    case 11:
    case 13:
      return typeDegree(scan, `${number}`, from);
    case 3:
    case 5:
      return flaw(from, scan.at, `the ${ORDINALS[number]} is there already`, '');
    default:
      return flaw(from, scan.at, `${number} is not a degree of a chord`, number === 10 ? '9' : '', '');
  }
}

/** Notes that the symbol asks for a degree by name; its place ends where the reading has come to. */
export function typeDegree(scan: Scan, degree: ChordDegree, from: number): Flaw | null {
  const { parts, at: to } = scan;
  const bit = setOf(degree);
  if (parts.typed & bit) return flaw(from, to, `the ${degree} is written twice`, '');
  parts.typed |= bit;
  parts.places.push({ degree, from, to });
  return null;
}

/** Reads `b9`, `#11`, `-5`, `+9`, `♮7`. */
export function readAlteration(scan: Scan): Flaw | null {
  const { text, parts } = scan;
  const from = scan.at++;
  const typed = text[from]!;
  const sign = typed === '-' ? 'b' : typed === '+' ? '#' : typed;
  const doubled = sign !== '♮' && text[scan.at] === typed;
  while (doubled && text[scan.at] === typed) scan.at++;
  const number = takeNumber(scan);
  const how = sign === 'b' ? 'flattened' : 'raised';
  if (doubled) {
    return flaw(
      from,
      scan.at,
      `no ${ORDINALS[number] ?? 'degree'} is ${how} twice`,
      typed + (number || ''),
      '',
    );
  }
  if (number === 0) return flaw(from, from + 1, `"${typed}" needs the number of a degree after it`, '');
  if (typed === '+' && number === 7 && parts.quality === 'minor' && scan.brackets === '') {
    return flaw(from, scan.at, '+7 after a minor chord is read in two ways: write (maj7) or 7#5', '(maj7)');
  }
  return alter(scan, sign, number, from);
}

/** Adds an altered degree. */
export function alter(scan: Scan, sign: string, number: number, from: number): Flaw | null {
  const { parts } = scan;
  const altered = sign + number;
  switch (altered) {
    case 'b5':
    case '#5':
    case 'b6':
    case 'b9':
    case '#9':
    case '#11':
    case 'b13':
      return typeDegree(scan, altered, from);
    case 'b2':
      return typeDegree(scan, 'b9', from);
    case '#2':
      return typeDegree(scan, '#9', from);
    case '#4':
      return typeDegree(scan, '#11', from);
    case '#7':
    case '♮7':
      if (parts.seventh !== 'none') return flaw(from, scan.at, 'the seventh is there already', '');
      parts.seventh = 'major';
      if (parts.size === 0) setSize(parts, 7, from);
      return null;
    case '♮5':
      return null;
    case 'b10':
      return flaw(from, scan.at, 'a flat tenth is written #9', '#9');
    case 'b7':
      return flaw(from, scan.at, 'the minor seventh is written 7, without a flat', '7', '');
    case 'b3': {
      const found = flaw(from, scan.at, 'a minor third is written m, right after the root', '');
      return likelier(found, parts.start, scan.at, `m${scan.text.slice(parts.start, from)}`);
    }
  }
  if (sign === '♮') return addNatural(scan, number, from);
  const name = ORDINALS[number];
  const how = sign === 'b' ? 'flattened' : 'raised';
  const message = name ? `no ${name} is ${how} in a chord symbol` : `${number} is not a degree of a chord`;
  return flaw(from, scan.at, message, sign === 'b' ? 'b9' : '#11', '');
}
