import type { Degree } from '../harmony/index.ts';
import type { VoicingStyle } from './types.ts';

/**
 * The tables of the voicing room.
 *
 * Notation: degrees stand as text with a space between them, "3 b7". `when` is what a chord must
 * contain for its row to hold; the first row that holds is taken. The first two degrees of `when`
 * are the row's guide tones and sound in every voicing. The other two voices come from the tones
 * the symbol names and from `free`, the tensions a player adds unasked. `root` says that the root
 * may be one of the four even where no root is wanted, because the chord has too little else.
 */
export interface VoicingRow {
  readonly when: string;
  readonly free: string;
  readonly root: boolean;
  readonly source: string;
}

const row = (when: string, free: string, root: boolean, source: string): VoicingRow =>
  Object.freeze({ when, free, root, source });

export const VOICINGS: readonly VoicingRow[] = Object.freeze([
  row('3 7', '9 13', false, 'rootless A and B forms "3 5 7 9", "7 9 3 5", "7 9 3 6": common practice'),
  row(
    '3 b7',
    '9 13',
    false,
    '"3 13 b7 9", "b7 9 3 13": common practice; Levine, The Jazz Piano Book (Sher 1989)',
  ),
  row('b3 b7 b5', '11', true, '"b3 b5 b7 1", and 11 for the root: common practice'),
  row(
    'b3 b7',
    '9 11',
    false,
    '"b3 5 b7 9", "b7 9 b3 5"; 13 left out, as it takes the third of the dominant that follows away',
  ),
  row('b3 7', '9 13', false, '"b3 5 7 9": from memory; 13 from the melodic minor scale'),
  row('b3 bb7 b5', '9 11', true, 'a tension a whole tone above a chord tone: common practice'),
  row('3 6', '9', true, '"3 5 6 9": common practice'),
  row('b3 6', '9', true, '"b3 5 6 9": from memory'),
  row('4 b7', '9 13', false, 'fourth for third over the dominant: common practice'),
  row('4 7', '9 13', false, 'as the suspended dominant'),
  row('2 b7', '13', true, 'second for third over the dominant'),
  row('3 #5', '9', true, 'whole-tone scale: common practice'),
  row('b3 b5', 'bb7', true, 'a diminished triad is comped as a diminished seventh: common practice'),
  row('3 b5', '9', true, 'our choice, because the whole-tone and the lydian scale share the ninth'),
  row('3 5', '6 9', true, 'a major triad is comped as a sixth or an added ninth: common practice'),
  row('b3 #5', '11', true, 'our choice, because the fourth is no avoid note in a minor chord'),
  row(
    'b3 5',
    '9 11',
    true,
    'our choice, because sixth and seventh would settle a mode the symbol leaves open',
  ),
  row('4 5', '9', true, 'a suspended triad with its ninth: common practice'),
  row('2 5', '6', true, 'pentatonic colour: our choice, because no third may come in'),
  row('1 5', '', true, 'root and fifth alone, doubled: the chord has no third'),
]);

/**
 * What a typed alteration keeps out: the natural tension of the same number, the tensions of a
 * scale the alteration does not belong to, and the tone a semitone from it. A dominant with b9, #9
 * or b13 leads to minor or is altered, so that its natural 9 and 13 go. Common practice; computed
 * from the scales: altered, half-whole diminished, mixolydian b9 b13, lydian dominant, whole tone.
 */
export const KEPT_OUT_BY: Readonly<Partial<Record<Degree, string>>> = Object.freeze({
  b9: '9 13',
  '#9': '9 13',
  b13: '13 9 5',
  b6: '13 9 5 6',
  '#5': '5 13 6',
  b5: '5 13',
  '#11': '5 11',
});

/**
 * How gladly a tone is taken into the two voices beside the guide tones, in semitones of motion the
 * others are worth more. Named tones come before free ones. Our choice, because a ninth colours
 * every chord, a fifth thickens it, and the bass has the root.
 */
export const RELUCTANCE: Readonly<Partial<Record<Degree, number>>> = Object.freeze({
  '1': 1.5,
  '5': 0.5,
  '9': 0,
  b13: 0.25,
  '11': 0.5,
  '13': 0.25,
  '6': 0.25,
});

/** How the four notes of a style lie. All numbers are MIDI keys or semitones. */
export interface StyleRow {
  /** Lowest and highest key. */
  readonly low: number;
  readonly high: number;
  /** From the lowest to the highest voice at most. */
  readonly span: number;
  /** Where the middle of the four notes rests. */
  readonly centre: number;
  /** Whether the root belongs to the style. */
  readonly root: boolean;
  readonly source: string;
}

export const STYLES: Readonly<Record<VoicingStyle, StyleRow>> = Object.freeze({
  rootless: {
    low: 48,
    high: 72,
    span: 16,
    centre: 60,
    root: false,
    source: 'A and B forms within about an octave of middle C: common practice',
  },
  'drop-2': {
    low: 48,
    high: 76,
    span: 19,
    centre: 61,
    root: true,
    source: 'the second voice from the top of a close position an octave lower: common practice',
  },
  'drop-3': {
    low: 43,
    high: 76,
    span: 23,
    centre: 59,
    root: true,
    source: 'the third voice from the top of a close position an octave lower: by the definition of drop-n',
  },
  shell: {
    low: 43,
    high: 72,
    span: 21,
    centre: 57,
    root: true,
    source: 'guide tones below, alone or on the root, with two tones above: common practice',
  },
  fourths: {
    low: 48,
    high: 76,
    span: 19,
    centre: 61,
    root: true,
    source: 'stacked fourths, one of them a third or a fifth: common practice',
  },
});

/**
 * The lowest key on which an interval of 1 to 11 semitones may stand without turning to mud, from
 * Sweetwater InSync, "Low interval limit" (there with middle C as C3, here with C4 = 60); major
 * third and fourth in the lower, Berklee-style reading from memory. Sources differ by up to a
 * semitone and more, so a semitone below counts as allowed: see LOW_INTERVAL_TOLERANCE. The
 * tritone's entry lies an octave off in the source and stands here at its from-memory value.
 */
export const LOW_INTERVAL_LIMITS: readonly number[] = Object.freeze([
  0, 52, 51, 48, 46, 45, 47, 37, 41, 41, 41, 41,
]);

/** In semitones. */
export const LOW_INTERVAL_TOLERANCE = 1;
