/**
 * How chords sit in a key.
 *
 * DEGREES_OF_KEY: one line each, "semitones kinds role kind cost" — the chord's root in semitones above
 * the tonic; the kinds of chord the line speaks of, joined by commas; what the chord does; by which
 * convention it belongs; and how far it strays from the key, 0 for its plainest chords. The roles are
 * common practice (Nettles and Graf, The Chord Scale Theory and Jazz Harmony, from memory). The costs are
 * our choice: they need only rank readings, and the charts in `tests/engine/harmony/keys` hold them.
 *
 * The kinds of chord: maj (major triad, sixth or seventh), aug, dom (with minor seventh), sus (suspended
 * dominant), min (minor triad or seventh), mmaj (minor with major seventh or sixth), hdim, dim, pow.
 */
import type { FunctionKind, HarmonicRole, Mode } from './types.ts';

export type ChordKind = 'maj' | 'aug' | 'dom' | 'sus' | 'min' | 'mmaj' | 'hdim' | 'dim' | 'pow';

export interface Fit {
  readonly role: HarmonicRole;
  readonly kind: FunctionKind;
  readonly cost: number;
}

const MAJOR_KEY = `
0 maj,pow tonic diatonic 0
2 min subdominant diatonic 0
4 min tonic diatonic 0.2
5 maj,pow subdominant diatonic 0.1
7 dom,sus dominant diatonic 0
7 maj,pow dominant diatonic 0.1
9 min tonic diatonic 0.1
11 hdim dominant diatonic 0.4
11 dim dominant borrowed 0.4
0 aug tonic borrowed 0.8
7 aug dominant borrowed 0.3
0 dom tonic blues-dominant 0.6
5 dom subdominant blues-dominant 0.6
2 hdim subdominant borrowed 0.6
5 min,mmaj subdominant borrowed 0.6
7 min subdominant borrowed 1.1
8 maj subdominant borrowed 0.9
3 maj tonic borrowed 1
10 maj subdominant borrowed 1
1 maj subdominant borrowed 1
0 min,mmaj tonic borrowed 1.2
6 hdim tonic borrowed 0.9
6 dim subdominant passing-diminished 0.5
0 dim tonic passing-diminished 0.7
`;

const MINOR_KEY = `
0 min,mmaj tonic diatonic 0
0 pow tonic diatonic 0
2 hdim subdominant diatonic 0
3 maj tonic diatonic 0.3
3 aug tonic diatonic 0.5
5 min subdominant diatonic 0.1
5 mmaj subdominant diatonic 0.2
7 dom,sus dominant diatonic 0
7 aug dominant diatonic 0.3
7 min dominant diatonic 0.8
7 maj,pow dominant diatonic 0.2
8 maj subdominant diatonic 0.2
9 hdim tonic diatonic 0.6
10 maj,pow subdominant diatonic 0.6
11 dim dominant diatonic 0.2
2 dim subdominant diatonic 0.5
2 min subdominant borrowed 0.7
5 dom subdominant borrowed 0.6
5 maj subdominant borrowed 0.9
1 maj subdominant borrowed 0.8
0 maj tonic borrowed 1.1
0 dom tonic blues-dominant 1
`;

const parse = (lines: string): ReadonlyMap<string, Fit> =>
  new Map(
    lines
      .trim()
      .split('\n')
      .flatMap((line) => {
        const [semitones, kinds, role, kind, cost] = line.split(' ') as [
          string,
          string,
          HarmonicRole,
          FunctionKind,
          string,
        ];
        return kinds
          .split(',')
          .map((name) => [semitones + name, Object.freeze({ role, kind, cost: Number(cost) })] as const);
      }),
  );

/** Looked up by semitones and kind of chord together, e.g. "7dom". */
export const DEGREES_OF_KEY: Readonly<Record<Mode, ReadonlyMap<string, Fit>>> = Object.freeze({
  major: parse(MAJOR_KEY),
  minor: parse(MINOR_KEY),
});

/** The numerals of the degrees, counted from the major scale in both modes. Common practice in jazz. */
export const NUMERALS: readonly string[] = [
  'I',
  'bII',
  'II',
  'bIII',
  'III',
  'IV',
  '#IV',
  'V',
  'bVI',
  'VI',
  'bVII',
  'VII',
];

/** Degrees of a key that a secondary dominant may point to, in semitones above the tonic. Common practice. */
export const TARGETS: Readonly<Record<Mode, readonly number[]>> = Object.freeze({
  major: [2, 4, 5, 7, 9],
  minor: [2, 3, 5, 7, 8, 10],
});

/** Degrees borrowed from the minor mode that a dominant in major may point to. Common practice. */
export const BORROWED_TARGETS: readonly number[] = Object.freeze([1, 3, 8, 10]);

/** What a reading costs beside its place in the key. Our choice, see above. */
export const COSTS = Object.freeze({
  /** A chord no convention explains. */
  chromatic: 2.4,
  /** A dominant that resolves down a fifth to a degree of the key. */
  secondary: 0.5,
  /** The same to a degree that has become another chord than the key's own. */
  extended: 0.7,
  /** The same to a degree borrowed from the other mode. */
  remote: 0.9,
  /** A whole cadence, ii V I, speaks for its key. */
  cadence: -0.8,
  /** A dominant whose target does not come. */
  unresolved: 0.6,
  /** A plain triad in a dominant's place. */
  triad: 0.2,
  /** A dominant that falls a semitone. */
  substitute: 0.5,
  /** A dominant at rest on I or IV of a form that is a blues. */
  blues: 0.15,
  backdoor: 0.5,
  relatedSecond: 0.6,
  passing: 0.6,
  /** Going to another key. */
  change: 1.3,
  /** Going to the relative key or the one of the other mode. */
  nearChange: 1,
  /** Each chord spent away from home. */
  away: 0.12,
  /** A form that does not begin or end at home. */
  end: 1,
  /** What a form gains in likelihood by beginning, or by ending, on the tonic. */
  tonicEnd: 0.5,
  /** A tension that speaks for the other mode: a flat ninth or thirteenth in major, a natural one in minor. */
  wrongMode: 0.3,
});
