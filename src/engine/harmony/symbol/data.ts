/**
 * The words and signs chord symbols are written with.
 *
 * WORDS: each meaning with its spellings in small letters, longer before shorter where one begins
 * another. A word is read whatever its case, except the single letters `M` (major) and `m` (minor). Common
 * practice: what printed lead sheets use in English, and the `j7` of European ones.
 *
 * SIGNS: a character, then the characters read as if it had been typed. Each stands for one of the same
 * length, so that offsets stay those of the typed text.
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

export const WORDS: Readonly<Record<Word, string>> = {
  major: 'major maj ma mj j',
  triangle: 'δ',
  minor: 'minor min mi',
  'half-diminished': 'half-diminished half-dim halfdim ø',
  omit: 'omit no',
  dominant: 'dom',
  diminished: 'diminished dim ° o',
  augmented: 'augmented aug',
  suspended: 'sus',
  altered: 'altered alt',
  add: 'add',
};

/** A double flat and a double sharp written as one sign; two private characters, as the signs are long. */
export const DOUBLE_FLAT = '\ue000';
export const DOUBLE_SHARP = '\ue001';

const ALIKE = 'b♭ #♯ -−–—‐‑⁻ +⁺＋ δΔ∆△▵ øØ∅⌀ °º˚∘○ (⁽ )⁾ /∕⁄ 0⁰₀ 1¹₁ 2²₂ 3³₃ 4⁴₄ 5⁵₅ 6⁶₆ 7⁷₇ 8⁸₈ 9⁹₉';

export const SIGNS: ReadonlyMap<string, string> = new Map([
  ...ALIKE.split(' ').flatMap((group) => [...group].map((sign) => [sign, group[0]!] as const)),
  ['𝄫', DOUBLE_FLAT.repeat(2)],
  ['𝄪', DOUBLE_SHARP.repeat(2)],
  ['\u00a0', ' '],
  ['\u202f', ' '],
]);

/** No chord symbol in print is as long as this; what is longer is refused unread. */
export const LONGEST_SYMBOL = 64;

/** German note names → the name meant. Common practice. */
export const GERMAN_NAMES: readonly (readonly [other: RegExp, name: string])[] = [
  [/^H(es|b)/, 'Bb'],
  [/^H/, 'B'],
  [/^([A-G])is/, '$1#'],
  [/^([AE])s/, '$1b'],
  [/^([CDG])es/, '$1b'],
];

/** How a degree's number is called, from 2 on. */
export const ORDINALS: readonly string[] =
  '- - second third fourth fifth sixth seventh - ninth tenth eleventh twelfth thirteenth'.split(' ');
