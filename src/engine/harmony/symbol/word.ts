import { setOf } from '../degrees.ts';
import { ORDINALS, WORDS, type Word } from './data.ts';
import { addNatural, alter, isDigit, setSize, skipSpace, takeNumber, typeDegree } from './number.ts';
import { flaw, likelier, type Flaw, type Parts, type Scan } from './parts.ts';

const BY_LETTER = groupByLetter();

function groupByLetter(): ReadonlyMap<number, readonly (readonly [string, Word])[]> {
  const groups = new Map<number, (readonly [string, Word])[]>();
  for (const [word, spellings] of Object.entries(WORDS) as [Word, string][]) {
    for (const spelling of spellings.split(' ')) {
      const letter = spelling.charCodeAt(0);
      groups.set(letter, [...(groups.get(letter) ?? []), [spelling, word]]);
    }
  }
  return groups;
}

/** Reads a word: a quality, `sus`, `alt`, `add`, `no`. */
export function readWord(scan: Scan): Flaw | null {
  const { text, parts } = scan;
  const from = scan.at;
  const found = BY_LETTER.get(scan.lower.charCodeAt(from))?.find(([spelling]) =>
    standsAt(scan, spelling, from),
  );
  const letter = text[from];
  const word = found?.[1] ?? (letter === 'm' ? 'minor' : letter === 'M' ? 'major' : null);
  scan.at += found?.[0].length ?? 1;
  switch (word) {
    case null: {
      const unknown = /^(?:\p{L}+|[^])/u.exec(text.slice(from, parts.end))![0];
      return flaw(from, from + unknown.length, `“${unknown}” means nothing in a chord symbol`);
    }
    case 'major':
    case 'triangle':
      return readMajor(scan, word, from);
    case 'minor':
    case 'diminished':
    case 'half-diminished':
      return setQuality(scan, word, from);
    case 'augmented':
      return setAugmented(scan, from);
    case 'dominant':
      return readDominant(scan, from);
    case 'suspended':
      return readSuspended(scan);
    case 'altered':
      if (parts.altered) return flaw(from, scan.at, 'alt is written twice', '');
      parts.altered = true;
      return null;
    case 'add':
      return readAdd(scan, from);
    case 'omit':
      return readOmit(scan, from);
  }
}

/** True where the word stands and no other one begins inside it: an m before `add`, `alt` or `aug` is not a `ma`. */
function standsAt({ lower }: Scan, spelling: string, at: number): boolean {
  if (!lower.startsWith(spelling, at)) return false;
  return spelling !== 'ma' || !/^a(?:dd|lt|ug)/.test(lower.slice(at + 1, at + 4));
}

/** Sets the quality, which stands right behind the root or, as in 7min, right behind the size. */
export function setQuality(scan: Scan, quality: Parts['quality'], from: number): Flaw | null {
  const { parts } = scan;
  const fits = scan.numberEnd === from || (parts.size === 0 && parts.typed === 0);
  if (parts.quality !== 'plain' || !fits) {
    const typed = scan.text.slice(from, scan.at);
    return flaw(from, scan.at, `"${typed}" does not fit what stands before it`, '');
  }
  parts.quality = quality;
  return null;
}

/** Raises the fifth. */
export function setAugmented({ parts, at }: Scan, from: number): Flaw | null {
  if (parts.augmented) return flaw(from, at, 'the fifth is raised already', '');
  parts.augmented = true;
  parts.places.push({ degree: '#5', from, to: at });
  return null;
}

/**
 * Reads what follows `maj`: with a 7, 9, 11 or 13 it is the major seventh, alone it is the major triad;
 * a triangle, a `maj` behind minor or diminished, and one right behind a bare 7 are the seventh too.
 */
function readMajor(scan: Scan, word: 'major' | 'triangle', from: number): Flaw | null {
  const { parts } = scan;
  const followsNumber = scan.numberEnd === from;
  const wordEnd = scan.at;
  skipSpace(scan);
  const sizeAt = scan.at;
  const number = takeNumber(scan);
  const hasSize = number === 7 || number === 9 || number === 11 || number === 13;
  if (!hasSize) scan.at = wordEnd;
  if (parts.quality === 'major' || parts.seventh === 'major' || parts.seventh === 'both') {
    return flaw(from, scan.at, 'major is written twice', '');
  }
  if (!hasSize && word === 'major' && parts.quality === 'plain' && !followsNumber) {
    return setQuality(scan, 'major', from);
  }
  if (parts.quality === 'plain') parts.quality = 'major';
  if (parts.seventh === 'plain' && parts.quality === 'diminished') {
    parts.seventh = 'both';
    return null;
  }
  if (parts.seventh === 'plain' && parts.size === 7 && (hasSize || !followsNumber)) {
    const found = flaw(from, scan.at, 'the symbol asks for a minor and for a major seventh', '');
    return likelier(found, parts.sizeAt, parts.sizeAt + 1, '');
  }
  parts.seventh = 'major';
  if (number > 7 && hasSize) {
    if (parts.size > 6) return flaw(from, scan.at, 'the size of the chord is written twice', '');
    setSize(parts, number, sizeAt);
    return number === 11 ? null : typeDegree(scan, `${number as 9 | 13}`, sizeAt);
  }
  if (parts.size < 7) setSize(parts, 7, sizeAt);
  return null;
}

function readDominant(scan: Scan, from: number): Flaw | null {
  const { parts } = scan;
  if (parts.quality !== 'plain' || parts.size !== 0) {
    return flaw(from, scan.at, '“dom” goes right behind the root', '');
  }
  if (isDigit(scan.text.charCodeAt(scan.at))) return null;
  parts.seventh = 'plain';
  setSize(parts, 7, scan.at);
  return null;
}

function readSuspended(scan: Scan): Flaw | null {
  const { parts, text } = scan;
  let suspended = 0;
  while (text[scan.at] === '2' || text[scan.at] === '4') suspended |= setOf(text[scan.at++] as '2' | '4');
  parts.suspended |= suspended || setOf('4');
  return null;
}

function readAdd(scan: Scan, from: number): Flaw | null {
  skipSpace(scan);
  const sign = /^[b#+-]/.exec(scan.text.slice(scan.at))?.[0] ?? '';
  scan.at += sign.length;
  const number = takeNumber(scan);
  if (number === 0) return flaw(from, scan.at, '“add” needs the number of a degree after it', '');
  if (number === 5 || number === 7) {
    const message = `the ${ORDINALS[number]} is not added, it is part of the chord`;
    return flaw(from, scan.at, message, sign + number, '');
  }
  if (sign !== '') return alter(scan, sign === '-' ? 'b' : sign === '+' ? '#' : sign, number, from);
  if (number === 3) return typeDegree(scan, '3', from);
  return number === 4 ? typeDegree(scan, '11', from) : addNatural(scan, number, from);
}

function readOmit(scan: Scan, from: number): Flaw | null {
  skipSpace(scan);
  const number = takeNumber(scan);
  if (number === 0) return flaw(from, scan.at, 'the number of the degree to leave out is missing', '');
  if (/^(?:rd|th|st|nd)/.test(scan.lower.slice(scan.at, scan.at + 2))) scan.at += 2;
  scan.parts.omitted.push({ number, from, to: scan.at });
  return null;
}
