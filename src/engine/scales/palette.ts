/**
 * Which scales a chord is played with, and what moves one of them up or down.
 *
 * PALETTES: for each family of chords "scale | rank | why". The rank is a distance from the plainest
 * choice: 0 leads where nothing else speaks, about 1 is a shade further away. Only scales that hold the
 * chord's tones are offered, so one table serves every colour of a family. The order follows the
 * chord-scale tables in `shared/reference/chord-scales.json`; where these leave it open the rank is our
 * choice, and so are its amounts, which need only keep the order.
 *
 * SHIFTS: what the place of a chord does to the ranks. Common practice; amounts our choice.
 */
import type { ChordFamily } from '../harmony/index.ts';

export interface Candidate {
  readonly id: string;
  readonly rank: number;
  /** Why it fits, in words that follow "C altered: ". */
  readonly why: string;
}

const DOMINANT = `
mixolydian            | 0   | the chord's own tones with 9 and 13; the 11 is passed over
lydian-dominant       | 1   | the #11 takes the place of mixolydian's avoid note
bebop-dominant        | 1.4 | mixolydian with a passing 7 that keeps chord tones on the beat
blues                 | 2   | minor blues over a dominant, the #9 against its 3
major-blues           | 2.4 | the blues with the major third at rest and the minor one as a bend
minor-pentatonic      | 2.6 | the blues without its b5
half-whole-diminished | 3   | b9 and #9 with a natural fifth and thirteenth
altered               | 3.2 | both ninths and both fifths altered over the shell
phrygian-dominant     | 3.4 | b9 and b13 with a natural fifth, as a dominant in minor has them
whole-tone            | 3.5 | a plain ninth with both fifths altered
mixolydian-flat-six   | 3.6 | a plain ninth with b13, from the melodic minor a fourth up
mixolydian-flat-two   | 4.2 | b9 with a natural thirteenth, from the harmonic major a fourth up
`;

const SUSPENDED = `
mixolydian            | 0   | the suspended fourth at home, the third kept for later
dorian-flat-two       | 2.6 | b9 over the suspended fourth, with a natural thirteenth
phrygian              | 2.8 | b9 over the suspended fourth, the phrygian sound
dorian                | 1.2 | the fourth at home over a minor third
bebop-dominant        | 1.5 | mixolydian with a passing 7 that keeps chord tones on the beat
major                 | 1.6 | the fourth at home beside a major seventh
major-pentatonic      | 2   | five plain notes over the suspension
aeolian               | 2.2 | the fourth at home over a minor third, with b13
mixolydian-flat-six   | 2.4 | the suspended fourth with b13
phrygian-dominant     | 3.6 | b9 and b13, the third kept for later
lydian                | 3.6 | the second at home beside a raised fourth
`;

const MINOR = `
dorian                   | 0   | every note can be held: 9, 11 and 13 over the minor chord
bebop-minor              | 1.2 | dorian with a passing major third
minor-pentatonic         | 1.4 | the five plain notes of the minor chord
aeolian                  | 1.5 | the natural minor, its b13 passed over
blues                    | 1.7 | the minor pentatonic with a b5
melodic-minor            | 2.5 | a major sixth and a major seventh above the minor third
harmonic-minor           | 2.9 | a major seventh and a b13 above the minor third
phrygian                 | 3   | the third degree's sound, b9 and b13 passed over
dorian-flat-two          | 3.6 | b9 with a natural thirteenth
dorian-sharp-four        | 3.9 | a raised fourth over the minor chord
melodic-minor-sharp-four | 4.2 | a raised fourth beside the major seventh
`;

const HALF_DIMINISHED = `
locrian-natural-two | 0   | the 9 can be held, from the melodic minor a minor third up
locrian             | 0.6 | the seventh degree's own scale, its b9 passed over
locrian-natural-six | 1.8 | the second degree of harmonic minor, with a natural thirteenth
dorian-flat-five    | 3   | a natural ninth and thirteenth, from the harmonic major
`;

const DIMINISHED = `
whole-half-diminished     | 0   | a whole tone above each chord tone, every one of them a tension
locrian                   | 1   | the seventh degree's own scale
ultralocrian              | 2   | the seventh degree of harmonic minor
locrian-natural-six       | 2.2 | the second degree of harmonic minor
locrian-double-flat-seven | 3   | the seventh degree of harmonic major
dorian-flat-five          | 3.2 | the second degree of harmonic major
`;

const AUGMENTED = `
whole-tone                 | 0   | nothing but whole tones around the raised fifth
lydian-augmented           | 0.5 | the third degree of melodic minor, a raised fourth and fifth
major-sharp-five           | 1.2 | the third degree of harmonic minor
altered                    | 2.6 | both ninths altered above the raised fifth
lydian-augmented-sharp-two | 3   | the sixth degree of harmonic major
`;

const MAJOR = `
major                      | 0   | the chord's own key, its 11 passed over
lydian                     | 1   | the #11 takes the place of the major scale's avoid note
bebop-major                | 1.6 | the major scale with a passing #5 that keeps chord tones on the beat
major-pentatonic           | 1.8 | the five plain notes of the major chord
major-blues                | 2.6 | the major pentatonic with a bend into its third
harmonic-major             | 3.4 | the major scale with b13
lydian-dominant            | 3.8 | the minor seventh of a blues tonic
lydian-sharp-two           | 4.2 | a #9 beside the #11
half-whole-diminished      | 4.6 | b9 and #9 above the major chord
phrygian-dominant          | 4.8 | b9 above the major chord
lydian-augmented           | 5   | a raised fourth and fifth
`;

const POWER = `
minor-pentatonic | 0   | five notes that leave open what the third will be
major-pentatonic | 0.2 | five notes with a major third
blues            | 0.5 | the minor pentatonic with a b5
mixolydian       | 1   | a major third and a minor seventh above the open fifth
dorian           | 1.1 | a minor third and a minor seventh above the open fifth
major            | 1.2 | a major third and a major seventh above the open fifth
aeolian          | 1.3 | the natural minor above the open fifth
lydian           | 2   | a raised fourth above the open fifth
phrygian         | 2.2 | b9 above the open fifth
`;

const parse = (lines: string): readonly Candidate[] =>
  Object.freeze(
    lines
      .split('\n')
      .filter(Boolean)
      .map((line) => {
        const [id, rank, why] = line.split('|').map((cell) => cell.trim()) as [string, string, string];
        return Object.freeze({ id, rank: Number(rank), why });
      }),
  );

export const PALETTES: Readonly<Record<ChordFamily, readonly Candidate[]>> = Object.freeze({
  dominant: parse(DOMINANT),
  suspended: parse(SUSPENDED),
  minor: parse(MINOR),
  'half-diminished': parse(HALF_DIMINISHED),
  diminished: parse(DIMINISHED),
  augmented: parse(AUGMENTED),
  major: parse(MAJOR),
  power: parse(POWER),
});

/** The scale a treatment stands for, which leads wherever the treatment lies. The treatments' own definitions. */
export const TREATED: ReadonlyMap<string, Omit<Candidate, 'rank'>> = new Map([
  ['altered', { id: 'altered', why: 'every note is a tone or tension of the altered chord' }],
  ['flat-nine', { id: 'half-whole-diminished', why: 'b9 and #9 with a natural fifth and thirteenth' }],
  [
    'flat-nine-flat-thirteen',
    { id: 'phrygian-dominant', why: 'b9 and b13 with a natural fifth, the dominant of harmonic minor' },
  ],
  ['sharp-eleven', { id: 'lydian-dominant', why: 'the #11 is the colour asked for' }],
  ['whole-tone', { id: 'whole-tone', why: 'a plain ninth with both fifths altered is the colour asked for' }],
  [
    'suspended-first',
    { id: 'mixolydian', why: 'it holds the fourth of the suspension and the third it falls to' },
  ],
  ['tritone-substitute', { id: 'lydian-dominant', why: 'its #11 is the root of the dominant it stands for' }],
]);

/** Where a dominant goes, as far as scales care. */
export type Going =
  'to-minor' | 'out-of-minor' | 'to-major' | 'substitute' | 'back-door' | 'at-rest' | 'elsewhere';

export interface Shift {
  /** Added to the ranks of these scales. */
  readonly by: Readonly<Record<string, number>>;
  /** Why, for the scales moved up; {chord} and {next} stand for the symbols. */
  readonly why: string;
}

const shift = (by: Record<string, number>, why: string): Shift =>
  Object.freeze({ by: Object.freeze(by), why });

const INTO_MINOR = {
  'phrygian-dominant': -3.2,
  altered: -2.9,
  'half-whole-diminished': -1.2,
  'mixolydian-flat-six': -1.5,
  mixolydian: 1.4,
  'lydian-dominant': 1.2,
  'bebop-dominant': 1.2,
  'major-blues': 2,
};

const UNDER_NO_TENSION = {
  altered: 2,
  'phrygian-dominant': 2,
  'half-whole-diminished': 1.5,
  'whole-tone': 1,
  'mixolydian-flat-six': 2,
  'mixolydian-flat-two': 2.5,
};

export const GOING: Readonly<Record<Going, Shift>> = Object.freeze({
  'to-minor': shift(
    INTO_MINOR,
    '{chord} falls a fifth to the minor {next}, where its altered tensions belong',
  ),
  'out-of-minor': shift(
    INTO_MINOR,
    '{chord} comes out of a half-diminished chord, so it has the tensions of minor',
  ),
  'to-major': shift(
    { altered: -1, 'half-whole-diminished': -0.9, 'phrygian-dominant': -0.2, 'lydian-dominant': 0.6 },
    '{chord} falls a fifth to {next}, so tension may be added before it resolves',
  ),
  substitute: shift(
    { ...UNDER_NO_TENSION, 'lydian-dominant': -2 },
    '{chord} leads down by semitone, as a tritone substitute does',
  ),
  'back-door': shift(
    { ...UNDER_NO_TENSION, 'lydian-dominant': -2 },
    '{chord} leads up a whole tone, as the back door does',
  ),
  'at-rest': shift(
    { ...UNDER_NO_TENSION, blues: -1.3, 'major-blues': -1.2 },
    '{chord} rests, as in a blues or a vamp',
  ),
  elsewhere: shift({ ...UNDER_NO_TENSION, 'lydian-dominant': -0.4 }, '{chord} does not resolve'),
});

/** What the symbol's own alterations say of the ranks. Order of the tables named above. */
export const COLOURS = Object.freeze({
  raisedFifth: shift(
    { 'whole-tone': -3.6, 'mixolydian-flat-six': -0.6 },
    'the raised fifth with no altered ninth',
  ),
  raisedNinth: shift({ altered: -1.2 }, 'the #9 is an altered ninth'),
  minorTensions: shift({ 'phrygian-dominant': -1 }, '{chord} asks for the tensions of a dominant in minor'),
  flatFifth: shift({ 'whole-tone': -1.8 }, 'the flat fifth with no altered ninth'),
  sixth: shift({ 'melodic-minor': -2.2 }, '{chord} is a minor tonic'),
});

/** What it costs a scale, per note, to leave the local key. A dominant leaves it by nature. Our choice. */
export const OUT_OF_KEY = Object.freeze({ dominant: 0.15, other: 1.6, passing: 0.4 });

/** A scale without the natural fifth a dominant's symbol takes for granted. Our choice. */
export const LOST_FIFTH = 0.4;

/** How far behind its scale an overlay comes. Our choice. */
export const OVERLAY_RANK = 1.9;

/** Scales of five or six notes come behind the fullest one by at least this much. Our choice. */
export const SPARSE_RANK = 0.4;

/** What it costs a scale, per tone of the chord, to be offered although it leaves the tone out. Our choice. */
export const LEFT_OUT = 4;

/**
 * Scales a player goes to over an alt chord although they do not hold all of it, nearest first. Common
 * practice; the harmonic minor a fourth up stands in the tables of `shared/reference/chord-scales.json`.
 */
export const NEAR_ALTERED: readonly Candidate[] = parse(`
half-whole-diminished | 5 | the altered ninths and the #11 over a natural fifth and thirteenth
phrygian-dominant     | 6 | the harmonic minor a fourth up, b9 and b13 over a natural fifth
whole-tone            | 7 | both altered fifths with a plain ninth
`);

/** How many are offered, and how far behind the first; of an alt chord more, for it lasts. Our choice. */
export const OFFER = Object.freeze({ least: 3, leastAltered: 5, most: 6, within: 3.2 });
