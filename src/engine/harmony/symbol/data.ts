import type { Degree } from '../types.ts';

/**
 * The words and signs chord symbols are written with.
 *
 * WORDS: spelling in small letters → meaning, longest first where one begins another. A word is read
 * whatever its case, except the single letters `M` (major) and `m` (minor). Source: common practice;
 * the spellings are those printed lead sheets use in English, and the `7M` and `j7` of Brazilian and
 * European ones.
 *
 * SIGNS: characters read as if another had been typed. Each stands for a character of the same length,
 * so that offsets stay those of the typed text.
 */

/** What a word in a chord symbol means. */
export type Word =
  | 'major'
  | 'triangle'
  | 'minor'
  | 'diminished'
  | 'half-diminished'
  | 'augmented'
  | 'dominant'
  | 'suspended'
  | 'altered'
  | 'add'
  | 'omit';

export const WORDS: readonly (readonly [spelling: string, meaning: Word])[] = [
  ['major', 'major'],
  ['maj', 'major'],
  ['ma', 'major'],
  ['mj', 'major'],
  ['j', 'major'],
  ['δ', 'triangle'],
  ['minor', 'minor'],
  ['min', 'minor'],
  ['mi', 'minor'],
  ['diminished', 'diminished'],
  ['dim', 'diminished'],
  ['°', 'diminished'],
  ['half-diminished', 'half-diminished'],
  ['half-dim', 'half-diminished'],
  ['halfdim', 'half-diminished'],
  ['ø', 'half-diminished'],
  ['augmented', 'augmented'],
  ['aug', 'augmented'],
  ['dom', 'dominant'],
  ['sus', 'suspended'],
  ['altered', 'altered'],
  ['alt', 'altered'],
  ['add', 'add'],
  ['omit', 'omit'],
  ['no', 'omit'],
  ['o', 'diminished'],
];

/** A double flat and a double sharp written as one sign; two private characters, as the signs are. */
export const DOUBLE_FLAT = '\ue000';
export const DOUBLE_SHARP = '\ue001';

export const SIGNS: ReadonlyMap<string, string> = new Map([
  ['♭', 'b'],
  ['♯', '#'],
  ['𝄫', DOUBLE_FLAT.repeat(2)],
  ['𝄪', DOUBLE_SHARP.repeat(2)],
  ['−', '-'],
  ['–', '-'],
  ['—', '-'],
  ['‐', '-'],
  ['‑', '-'],
  ['⁻', '-'],
  ['⁺', '+'],
  ['＋', '+'],
  ['Δ', 'δ'],
  ['∆', 'δ'],
  ['△', 'δ'],
  ['▵', 'δ'],
  ['Ø', 'ø'],
  ['∅', 'ø'],
  ['⌀', 'ø'],
  ['º', '°'],
  ['˚', '°'],
  ['∘', '°'],
  ['○', '°'],
  ['⁽', '('],
  ['⁾', ')'],
  ['∕', '/'],
  ['⁄', '/'],
  ['\u00a0', ' '],
  ['\u202f', ' '],
  ...[...'⁰¹²³⁴⁵⁶⁷⁸⁹'].map((digit, value) => [digit, `${value}`] as const),
  ...[...'₀₁₂₃₄₅₆₇₈₉'].map((digit, value) => [digit, `${value}`] as const),
]);

/** No chord symbol in print is as long as this; what is longer is refused unread. */
export const LONGEST_SYMBOL = 64;

/** Note names of other languages → the name meant. German and Latin usage, common practice. */
export const OTHER_NAMES: readonly (readonly [other: RegExp, name: string])[] = [
  [/^H(?:es|b)/, 'Bb'],
  [/^H/, 'B'],
  [/^([A-G])is/, '$1#'],
  [/^([AE])s/, '$1b'],
  [/^([CDG])es/, '$1b'],
  [/^Re/, 'D'],
  [/^Mi/, 'E'],
  [/^Sol/, 'G'],
  [/^La/, 'A'],
  [/^Si/, 'B'],
];

/** How a degree's number is called. */
export const ORDINALS: Readonly<Record<number, string>> = {
  2: 'second',
  3: 'third',
  4: 'fourth',
  5: 'fifth',
  6: 'sixth',
  7: 'seventh',
  9: 'ninth',
  10: 'tenth',
  11: 'eleventh',
  12: 'twelfth',
  13: 'thirteenth',
};

/**
 * Degrees that are not asked for together, and why: two forms of one number, or one note under two names.
 * Computed from the degrees' semitones; b5 beside #5 and b9 beside #9 are what altered chords are made of.
 */
export const CLASHES: readonly {
  readonly one: readonly Degree[];
  readonly other: readonly Degree[];
  readonly why: string;
}[] = [
  { one: ['9'], other: ['b9'], why: 'no ninth is both plain and flattened' },
  { one: ['9'], other: ['#9'], why: 'no ninth is both plain and raised' },
  { one: ['4', '11'], other: ['#11'], why: 'no eleventh is both plain and raised' },
  { one: ['6', '13'], other: ['b13'], why: 'no thirteenth is both plain and flattened' },
  { one: ['6', '13'], other: ['b6'], why: 'no sixth is both plain and flattened' },
  { one: ['b3'], other: ['#9'], why: 'the #9 is the same note as the minor third' },
  { one: ['b5'], other: ['#11'], why: 'the #11 is the same note as the b5' },
  { one: ['#5'], other: ['b13'], why: 'the b13 is the same note as the #5' },
  { one: ['#5'], other: ['b6'], why: 'the b6 is the same note as the #5' },
  { one: ['b6'], other: ['b13'], why: 'the b13 is the same note as the b6' },
  { one: ['6'], other: ['13'], why: 'the 13 is the same note as the 6' },
  { one: ['bb7'], other: ['6', '13'], why: 'the sixth is the same note as the diminished seventh' },
  { one: ['2'], other: ['9'], why: 'the 9 is the same note as the suspended second' },
  { one: ['4'], other: ['11'], why: 'the 11 is the same note as the suspended fourth' },
];
