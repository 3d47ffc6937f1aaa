import { ALTERED, familyOf } from './assemble.ts';
import { degreesOf, setOf, type DegreeSet } from './degrees.ts';
import { prettyName } from './names.ts';
import type { Chord, Degree, NoteName } from './types.ts';

/**
 * How symbols are printed: `ascii` as typed on a keyboard (Bbmaj7, Em7b5), `letters` the same with real
 * accidental signs (B♭maj7, Em7♭5), `signs` with the short signs (B♭△7, Eø7, C−7, D°7).
 */
export type ChordStyle = 'ascii' | 'letters' | 'signs';

interface Wording {
  readonly major: string;
  readonly minor: string;
  readonly diminished: string;
  readonly augmented: string;
  /** Null where the half-diminished chord is written as a minor one with a flat fifth. */
  readonly half: string | null;
}

/** Our choice among the spellings in use, because they are short and cannot be mistaken for each other. */
const LETTERS: Wording = { major: 'maj', minor: 'm', diminished: 'dim', augmented: 'aug', half: null };
const SIGNS: Wording = { major: '△', minor: '−', diminished: '°', augmented: '+', half: 'ø' };

/**
 * Prints a chord in one consistent style. What is printed reads back to the same root, bass and degrees.
 */
export function printChord(chord: Chord, style: ChordStyle = 'ascii'): string {
  const suffix = suffixOf(setOf(...chord.degrees), chord, style === 'signs' ? SIGNS : LETTERS);
  const safe =
    style === 'ascii' ? suffix : suffix.replaceAll('b', '♭').replaceAll('#', '♯').replaceAll('su♭', 'sub');
  const name = style === 'ascii' ? (note: NoteName) => note : prettyName;
  const bass = chord.bass === null ? '' : `/${name(chord.bass)}`;
  return name(chord.root) + safe + bass;
}

/**
 * A chord of given degrees, with the symbol that asks for them as its text.
 * @throws RangeError when no symbol asks for just these degrees
 */
export function makeChord(root: NoteName, degrees: readonly Degree[], bass: NoteName | null = null): Chord {
  const set = setOf(...degrees);
  const unknown = degrees.find((degree) => setOf(degree) === 0);
  if (unknown !== undefined || (set & setOf('1')) === 0) {
    throw new RangeError(`no chord symbol asks for the degrees ${degrees.join(' ')}`);
  }
  const altered = set === ALTERED;
  const chord = { text: '', root, bass, family: familyOf(set), degrees: degreesOf(set), altered };
  return { ...chord, text: printChord(chord) };
}

/** The part of a symbol behind its root. */
function suffixOf(set: DegreeSet, chord: Chord, words: Wording): string {
  if (chord.altered) return '7alt';
  const rest = new Rest(set);
  const base = baseOf(rest, chord, words);
  return base + listed(base, rest);
}

/** The degrees not yet printed. */
class Rest {
  set: DegreeSet;
  readonly all: DegreeSet;
  readonly extras: string[] = [];
  constructor(set: DegreeSet) {
    this.all = set;
    this.set = set & ~setOf('1');
  }
  /** Takes the degrees off when they are all there. */
  take(...degrees: readonly Degree[]): boolean {
    const wanted = setOf(...degrees);
    if ((this.set & wanted) !== wanted) return false;
    this.set &= ~wanted;
    return true;
  }
  has(...degrees: readonly Degree[]): boolean {
    return (this.all & setOf(...degrees)) !== 0;
  }
}

function baseOf(rest: Rest, chord: Chord, words: Wording): string {
  const suspended = rest.has('2', '4');
  const minor = rest.take('b3') || (suspended && chord.family === 'minor');
  if (minor && !suspended && rest.has('b5') && !rest.has('5', '#5')) {
    if (rest.has('bb7') || !rest.has('b7', '7', '6', '13')) return diminishedBase(rest, words);
    if (rest.has('7') && !rest.has('b7')) return diminishedBase(rest, words);
    if (rest.has('b7') && words.half !== null) {
      rest.take('b5');
      return words.half + sizeOf(rest, '7', 'b7', true);
    }
  }
  const third = suspended ? suspension(rest) : '';
  if (!suspended && !minor && !rest.take('3')) {
    if (rest.take('5') && !rest.has('b7', '7', '6')) return '5';
    rest.extras.push('no3');
  } else if (suspended && rest.take('3')) rest.extras.push('add3');
  const mark = minor ? words.minor : '';
  if (!minor && rest.has('#5') && !rest.has('5', 'b5', 'b7', '7', '6') && !suspended) {
    rest.take('#5');
    return words.augmented;
  }
  if (!rest.take('5') && !rest.has('b5', '#5', 'b13')) rest.extras.push('no5');
  if (rest.take('b7')) return mark + sizeOf(rest, '', 'b7', minor && !suspended) + third;
  if (rest.take('7')) {
    const size = words.major + sizeOf(rest, '', '7', false);
    return (minor ? `${mark}(${size})` : size) + third;
  }
  if (rest.take('6')) return mark + (rest.take('9') ? '69' : '6') + third;
  return mark + third;
}

function diminishedBase(rest: Rest, words: Wording): string {
  rest.take('b5');
  const major = rest.take('7') ? `(${words.major}7)` : '';
  if (!rest.take('bb7')) return words.diminished + major;
  return words.diminished + sizeOf(rest, '', 'bb7', true) + major;
}

function suspension(rest: Rest): string {
  const second = rest.take('2') ? 'sus2' : '';
  const fourth = rest.take('4') ? 'sus4' : '';
  return second + fourth;
}

/** 7, 9, 11 or 13, whichever takes most of the tensions with it. */
function sizeOf(rest: Rest, _lead: string, seventh: Degree, hasEleventh: boolean): string {
  if (seventh === 'b7') rest.take('b7');
  const altered = rest.has('b9', '#9');
  if (seventh !== 'bb7' && rest.has('13') && (rest.has('9') || altered) && !rest.has('2')) {
    rest.take('13');
    rest.take('9');
    return '13';
  }
  if (hasEleventh && rest.has('11') && rest.has('9')) {
    rest.take('9', '11');
    return '11';
  }
  return rest.take('9') ? '9' : '7';
}

/** What the base does not say: one alteration bare behind a number, anything else in brackets. */
function listed(base: string, rest: Rest): string {
  const degrees = degreesOf(rest.set);
  const items = [...degrees.map(String), ...rest.extras];
  if (items.length === 0) return '';
  const only = items.length === 1 ? degrees[0] : undefined;
  if (only !== undefined && /^[b#]/.test(only) && /[0-9]$/.test(base)) return only;
  if (only !== undefined && /^\d/.test(only) && !/\d/.test(base)) return `add${only}`;
  return `(${items.join(',')})`;
}
