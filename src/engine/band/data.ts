import type { ChordFamily, Degree } from '../harmony/index.ts';

/**
 * The steps between chord tones that a bass line may pass through, by chord family. A degree is left out
 * where the chord itself has one of the same number. Common practice: the scale a player would think of
 * (major, dorian, mixolydian, locrian with its natural ninth, whole-half diminished, whole tone).
 */
export const PASSING: Readonly<Record<ChordFamily, readonly Degree[]>> = {
  major: ['9', '11', '13'],
  minor: ['9', '11', '13'],
  dominant: ['9', '11', '13'],
  'half-diminished': ['9', '11', 'b13'],
  diminished: ['9', '11', 'b13'],
  augmented: ['9', '#11'],
  suspended: ['9', '13'],
  power: ['9'],
};

/**
 * The double bass: its open E string, and the G an octave and a tenth above, where a walking line turns
 * back. Scientific pitch E1 to G3 as MIDI. Common practice.
 */
export const BASS_RANGE = { low: 28, high: 55 } as const;

/**
 * What an interval costs a walking line, by semitones from 0 to 12. Steps are free, thirds and fourths
 * cheap, the octave cheaper than its neighbours. Our choice, because lines are heard as lines by steps
 * and a hand on the bass finds fourths, fifths and octaves under it.
 */
export const LEAP: readonly number[] = [2.6, 0, 0, 0.25, 0.35, 0.4, 1.1, 0.55, 1, 1.1, 1.6, 2.6, 0.9];

/** What a line sets out to do in a bar, and how that changes the price of intervals. */
export interface Intention {
  readonly name: string;
  readonly weight: number;
  readonly semitone: number;
  readonly step: number;
  readonly skip: number;
  readonly turn: number;
}

/** Four ways through a bar. Common practice; weights our choice. */
export const INTENTIONS: readonly Intention[] = [
  { name: 'scale', weight: 4, semitone: 0, step: -0.35, skip: 0.3, turn: 0.25 },
  { name: 'arpeggio', weight: 3, semitone: 0.25, step: 0.3, skip: -0.35, turn: 0.1 },
  { name: 'chromatic', weight: 2, semitone: -0.5, step: 0, skip: 0.25, turn: 0.2 },
  { name: 'turning back', weight: 2, semitone: 0, step: -0.1, skip: 0, turn: -0.3 },
];

/** Prices of the rules of the line, in the same unit as LEAP. Our choice, set by ear and by the figures in the tests. */
export const PRICES = {
  /** The third instead of the root at a change, where allowed at all. */
  thirdAtChange: -0.2,
  /** A chord tone other than the root where the same chord is written anew. */
  toneAtRenewal: 0.55,
  /** A note of the scale, or outside it, on a weak beat. */
  scaleTone: 0.35,
  chromatic: 0.8,
  /** A chromatic note that does not pass through by semitone. */
  strandedChromatic: 5,
  /** A scale note that is leapt to, or left by a leap. */
  leaptTo: 1,
  leaptFrom: 0.7,
  rootAgain: 0.35,
  oscillation: 0.8,
  sameWayLeaps: 1.5,
  leapNotTurned: 0.7,
  /** An octave leap to anything but the root. */
  idleOctave: 1.2,
  /** A root held over from its anticipation. */
  anticipated: -0.5,
  /** Per semitone away from the contour, beyond four. */
  contour: 0.13,
  /** Per semitone below G#1 or above C3. */
  edge: 0.12,
  /** Per semitone above D3 besides: there the chords begin. */
  chords: 0.5,
  /** How far chance may shift the price of a note. */
  whim: 1.3,
  /** The same where chords last, so that the line finds other ways over one chord. */
  whimOnVamp: 2.2,
} as const;

/** The last note before a change, by how it leads in. Common practice; the order of preference is our choice. */
export const APPROACH = {
  semitone: -0.7,
  toneWithin: -0.45,
  toneOutside: 0.3,
  fifth: -0.45,
  third: 1.2,
  same: 2.5,
  elsewhere: 1.8,
} as const;

/**
 * What the drums strike on a written hit, General MIDI percussion keys (from memory) with velocities at
 * middling intensity: a long one on a cymbal, a short one on the snare, the bass drum under both. Common
 * practice; `null` is the feel's crash. The brushes slap and tap (39, 38). Levels our choice.
 */
export const STRUCK: Readonly<
  Record<
    'sticks' | 'brushes',
    Readonly<
      Record<`${'strong' | 'light'} ${'short' | 'long'}`, readonly (readonly [number | null, number])[]>
    >
  >
> = {
  sticks: {
    'strong long': [
      [null, 76],
      [36, 68],
    ],
    'strong short': [
      [38, 76],
      [36, 64],
    ],
    'light long': [
      [51, 66],
      [36, 46],
    ],
    'light short': [
      [38, 50],
      [36, 40],
    ],
  },
  brushes: {
    'strong long': [
      [39, 58],
      [36, 48],
      [51, 44],
    ],
    'strong short': [
      [39, 62],
      [36, 46],
    ],
    'light long': [
      [38, 44],
      [36, 34],
    ],
    'light short': [
      [38, 42],
      [36, 30],
    ],
  },
};

/** The signs of articulation over a written hit, as they stand over notes. Common practice. */
export const HIT_SIGNS = {
  'strong short': '^',
  'strong long': '>',
  'light short': '.',
  'light long': '-',
} as const;
