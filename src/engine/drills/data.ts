/**
 * What there is to practise. `over` says from what a drill can be made; `groups` are steps up the scale from
 * the note a group begins on, 0 being that note itself.
 *
 * Sources: the root-anchored run, thirds, fourths, sixths, arpeggios and four-note cells through a scale,
 * approach, enclosure and guide tones are common practice.
 */
import type { Degree } from '../harmony/index.ts';

interface KindInfo {
  readonly name: string;
  /** What it is for, in one sentence. */
  readonly sentence: string;
  readonly over: readonly ('chord' | 'changes')[];
  readonly groups?: readonly number[];
}

const KINDS = {
  'root-run': {
    name: 'Run from the root',
    sentence: 'Up and down the scale; each root is held and struck again, so that it is heard as home.',
    over: ['chord'],
  },
  thirds: {
    name: 'Thirds',
    sentence: 'Up a third, down a step, and so on.',
    over: ['chord'],
    groups: [0, 2],
  },
  fourths: {
    name: 'Fourths',
    sentence: 'Every note of the scale with the one three steps above.',
    over: ['chord'],
    groups: [0, 3],
  },
  sixths: {
    name: 'Sixths',
    sentence: 'Every note of the scale with the one five steps above.',
    over: ['chord'],
    groups: [0, 5],
  },
  triads: {
    name: 'Triads',
    sentence: 'A triad on every note of the scale.',
    over: ['chord'],
    groups: [0, 2, 4],
  },
  sevenths: {
    name: 'Seventh arpeggios',
    sentence: 'A four-note arpeggio on every note of the scale.',
    over: ['chord'],
    groups: [0, 2, 4, 6],
  },
  cells: {
    name: 'Four-note cells',
    sentence: 'The same four-note shape on every note of the scale.',
    over: ['chord'],
  },
  approach: {
    name: 'Approach from below',
    sentence: 'Each chord tone from a semitone below.',
    over: ['chord', 'changes'],
  },
  enclosure: {
    name: 'Enclosure',
    sentence: 'Each chord tone from the scale note above and the semitone below.',
    over: ['chord', 'changes'],
  },
  'guide-tones': {
    name: 'Guide-tone line',
    sentence: 'Thirds and sevenths through the changes, each to the nearest of the next chord.',
    over: ['changes'],
  },
  through: {
    name: 'Scale through the changes',
    sentence: 'Runs on without stopping; each change is met by the nearest next note.',
    over: ['changes'],
  },
  'chord-tones': {
    name: 'Chord tones through the changes',
    sentence: 'Only chord tones, without stopping; each change is met by the nearest next one.',
    over: ['changes'],
  },
  'plain-altered': {
    name: 'Plain, altered, resolved',
    sentence: 'Half a bar plain, half a bar altered, and a step into the next chord.',
    over: ['chord'],
  },
  phrases: {
    name: 'Altered phrases',
    sentence: 'Shapes that lie in the altered scale, each led by step into the next chord.',
    over: ['chord', 'changes'],
  },
} as const satisfies Record<string, KindInfo>;

/** What is practised, by the id of the table. */
export type DrillKind = keyof typeof KINDS;

export const DRILL_KINDS: Readonly<Record<DrillKind, KindInfo>> = Object.freeze(KINDS);

/** The four-note cells, by steps of the scale from the note the cell begins on. Common practice. */
export const CELLS: Readonly<Record<string, readonly number[]>> = Object.freeze({
  '1 2 3 5': [0, 1, 2, 4],
  '1 2 3 4': [0, 1, 2, 3],
  '1 3 2 1': [0, 2, 1, 0],
  '5 3 2 1': [4, 2, 1, 0],
});

/** Running notes to the quarter. */
export const RHYTHMS = Object.freeze({ quarter: 1, eighth: 2, triplet: 3, sixteenth: 4 });

/** A shape within the altered scale. */
export interface PhraseRule {
  readonly id: string;
  /** E.g. "Major triad on the #5". */
  readonly name: string;
  /** Over the altered chord; each note is the next one of its degree up or down from the one before. */
  readonly degrees: readonly Degree[];
  /** Which way each note after the first lies from the one before. */
  readonly contour: readonly ('up' | 'down')[];
  readonly why: string;
}

/**
 * The shapes: "id | name | degrees | contour (u or d for each step) | why". That each is part of the altered scale is computed; that these
 * are shapes players use there is common practice. The chords named are those of the melodic minor a semitone
 * above the root, which has the same notes.
 */
const PHRASES = `
triad-on-sharp-five | Major triad on the #5      | #5 1 #9        | uu   | it holds both the root and two altered notes
triad-on-flat-five  | Major triad on the b5      | b5 b7 b9       | uu   | it is the triad of the tritone substitute
minor-on-flat-nine  | Minor triad on the b9      | b9 3 #5        | uu   | it is the tonic of the parent minor scale
augmented-on-three  | Augmented triad on the 3   | 3 #5 1         | uu   | every note of it lies a major third from the next
minor-major-on-b9   | Minor-major seventh on the b9 | b9 3 #5 1   | uuu  | it is the tonic chord of the parent minor scale
half-dim-on-b7      | Half-diminished on the b7  | b7 b9 3 #5     | uuu  | it begins on the seventh and has no root
down-from-sharp-nine | Down from the #9          | #9 b9 1 b7     | ddd  | both ninths fall to the root and on to the seventh
up-from-third       | Four steps up from the 3   | 3 b5 #5 b7     | uuu  | whole tones from the third to the seventh
minor-cell-on-b9    | 1 2 3 5 of the parent minor | b9 #9 3 #5    | uuu  | the cell of the parent minor scale, from the b9
nines-around-root   | Both ninths to the root    | #9 b9 b7 1     | ddu  | the root is met from above and from below
`;

export const PHRASE_RULES: readonly PhraseRule[] = Object.freeze(
  PHRASES.split('\n')
    .filter(Boolean)
    .map((line) => {
      const [id, name, degrees, contour, why] = line.split('|').map((cell) => cell.trim()) as [
        string,
        string,
        string,
        string,
        string,
      ];
      return Object.freeze({
        id,
        name,
        degrees: Object.freeze(degrees.split(' ') as Degree[]),
        contour: Object.freeze(
          [...contour].map((way) => (way === 'u' ? ('up' as const) : ('down' as const))),
        ),
        why,
      });
    }),
);
