import { degreesOf, setOf } from '../degrees.ts';
import { prettyName } from '../names.ts';
import type { Chord, Degree, NoteName } from '../types.ts';

/**
 * How symbols are printed: `ascii` as typed on a keyboard (Bbmaj7, Em7b5), `letters` the same with real
 * accidental signs (B♭maj7, Em7♭5), `signs` with the short signs (B♭△7, Eø7, C−7, D°7).
 */
export type ChordStyle = 'ascii' | 'letters' | 'signs';

export const CHORD_STYLES: readonly ChordStyle[] = ['ascii', 'letters', 'signs'];

/** The words of a style. `half` is null where a half-diminished chord is written as minor with a flat fifth. */
interface Wording {
  readonly major: string;
  readonly minor: string;
  readonly diminished: string;
  readonly augmented: string;
  readonly half: string | null;
}

/** Our choice among the spellings in use, because they are short and cannot be mistaken for each other. */
const LETTERS: Wording = { major: 'maj', minor: 'm', diminished: 'dim', augmented: 'aug', half: null };
const SIGNS: Wording = { major: '△', minor: '−', diminished: '°', augmented: '+', half: 'ø' };

/** Prints a chord in one consistent style. What is printed reads back to the same root, bass and degrees. */
export function printChord(chord: Chord, style: ChordStyle = 'ascii'): string {
  const suffix = suffixOf(chord, style === 'signs' ? SIGNS : LETTERS);
  const bass = chord.bass === null ? '' : `/${nameIn(style, chord.bass)}`;
  if (style === 'ascii') return chord.root + (isDouble(chord.root) ? guarded(suffix) : suffix) + bass;
  return nameIn(style, chord.root) + suffix.replace(/b(?=\d)/g, '♭').replaceAll('#', '♯') + bass;
}

const nameIn = (style: ChordStyle, name: NoteName): string => (style === 'ascii' ? name : prettyName(name));

const isDouble = (name: NoteName): boolean => name.length > 2;

/** After a typed double accidental a bare number would take the second accidental for its own. */
function guarded(suffix: string): string {
  if (/^5/.test(suffix)) return listed('', ['no3', ...suffix.slice(1).split(/[(),]/).filter(Boolean)]);
  return suffix.replace(/^(?=6)/, 'maj').replace(/^(?=9|1)/, 'dom');
}

/** The degrees not yet printed. */
class Rest {
  private set: number;
  private readonly all: number;
  constructor(degrees: readonly Degree[]) {
    this.all = setOf(...degrees);
    this.set = this.all & ~setOf('1');
  }
  /** True when the chord has any of the degrees, printed or not. */
  has(...degrees: readonly Degree[]): boolean {
    return (this.all & setOf(...degrees)) !== 0;
  }
  /** Takes the degrees off the list; false when one is missing. */
  take(...degrees: readonly Degree[]): boolean {
    const wanted = setOf(...degrees);
    if ((this.set & wanted) !== wanted) return false;
    this.set &= ~wanted;
    return true;
  }
  left(): readonly Degree[] {
    return degreesOf(this.set);
  }
}

/** The part of a symbol behind its root. */
function suffixOf(chord: Chord, words: Wording): string {
  if (chord.altered) return '7alt';
  const rest = new Rest(chord.degrees);
  const missing: string[] = [];
  const suspended = (rest.take('2') ? 'sus2' : '') + (rest.take('4') ? 'sus4' : '');
  const minor = suspended === '' ? rest.take('b3') : chord.family === 'minor';
  const base = diminishedBase(rest, words, minor && suspended === '');
  if (base !== null) return listed(base, [...rest.left()]);

  if (suspended !== '') {
    if (rest.take('3')) missing.push('add3');
  } else if (!minor && !rest.take('3')) {
    if (rest.has('5') && !rest.has('b7', '7', '6')) return powerSuffix(rest);
    missing.push('no3');
  }
  const fifthAlone = rest.has('#5') && !rest.has('5', 'b5', 'b7', '7', '6');
  if (!minor && suspended === '' && fifthAlone && rest.take('#5'))
    return listed(words.augmented, [...rest.left(), ...missing]);
  if (!rest.take('5') && !rest.has('b5', '#5', 'b13')) missing.push('no5');
  const stem = stemOf(rest, words, minor, suspended);
  return listed(stem + suspended, [...rest.left(), ...missing]);
}

function powerSuffix(rest: Rest): string {
  rest.take('5');
  return listed('5', [...rest.left()]);
}

/** The base of the chords on a diminished triad; null for any other. */
function diminishedBase(rest: Rest, words: Wording, minor: boolean): string | null {
  if (!minor || !rest.has('b5') || rest.has('5', '#5', '6', '13')) return null;
  if (rest.has('b7')) {
    if (words.half === null || rest.has('7')) return null;
    rest.take('b7', 'b5');
    return words.half + sizeOf(rest, true, false);
  }
  rest.take('b5');
  const size = rest.take('bb7') ? sizeOf(rest, true, false) : '';
  return words.diminished + size + (rest.take('7') ? `(${words.major}7)` : '');
}

/** Quality, seventh and size. */
function stemOf(rest: Rest, words: Wording, minor: boolean, suspended: string): string {
  const mark = minor ? words.minor : '';
  if (rest.take('b7')) return mark + sizeOf(rest, minor && suspended === '', true);
  if (rest.take('7')) {
    const size = words.major + sizeOf(rest, false, true);
    return minor ? `${mark}(${size})` : size;
  }
  if (rest.take('6')) return mark + (rest.take('9') ? '69' : '6');
  return mark;
}

/** 7, 9, 11 or 13: the largest whose own degrees are all there. */
function sizeOf(rest: Rest, hasEleventh: boolean, hasThirteenth: boolean): string {
  const ninth = rest.has('9', 'b9', '#9') && !rest.has('2');
  if (hasThirteenth && ninth && rest.take('13')) {
    rest.take('9');
    return '13';
  }
  if (hasEleventh && rest.take('9', '11')) return '11';
  return rest.take('9') ? '9' : '7';
}

/** What the base does not say: one alteration bare behind a number, one added degree by `add`, the rest in brackets. */
function listed(base: string, items: readonly string[]): string {
  const only = items.length === 1 ? items[0]! : '';
  if (items.length === 0) return base;
  if (/^[b#]/.test(only) && /\d$/.test(base)) return base + only;
  if (/^\d/.test(only) && !/\d/.test(base)) return `${base}add${only}`;
  return `${base}(${items.join(',')})`;
}
