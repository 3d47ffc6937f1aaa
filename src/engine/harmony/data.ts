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

/** Note names of other languages and of everyday slips → the name meant. Common practice. */
export const OTHER_NAMES: readonly (readonly [other: RegExp, name: string])[] = [
  [/^H(?=is)/, 'B'],
  [/^Hes|^Hb/, 'Bb'],
  [/^H/, 'B'],
  [/^([CDFGA])is/, '$1#'],
  [/^(E|A)s/, '$1b'],
  [/^([CDG])es/, '$1b'],
  [/^Sol/i, 'G'],
  [/^Re/i, 'D'],
  [/^Si/i, 'B'],
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
