import { PARTS } from '../../engine/index.ts';
import type { Instrument, Lineup } from '../types.ts';

/** How an instrument answers to the hand. All figures are our choice, by measure of the result. */
export interface Touch {
  /** Time constant in which a note dies once it is let go, seconds; null: it rings until it is over. */
  readonly release: number | null;
  /** Corner of the low-pass at velocity 1 and 127, Hz: a soft note is a dark one. */
  readonly dark: number;
  readonly bright: number;
  /**
   * How far from note to note the speed (and with it the pitch) strays, as a share. A string may stray
   * 2 cents only and still be in tune; strokes have several takes instead.
   */
  readonly stray: number;
  /** How much of the onset may be left out, seconds. */
  readonly skip: number;
  /** Which notes of the part end this one when they begin. */
  readonly endedBy: 'any' | 'same key' | Readonly<Record<number, readonly number[]>>;
  /** Time constant of that ending, seconds. */
  readonly damp: number;
  /** dB by key, where the source's own balance between strokes is not that of the music. */
  readonly balance?: Readonly<Record<number, number>>;
  /** How it rises and settles, where it is held rather than struck. */
  readonly sweep?: Sweep;
}

/** The way of a brush that is drawn over the skin: it is put down, and its pressure eases. */
export interface Sweep {
  /** Seconds until it is down. */
  readonly rise: number;
  /** The share of its level that it eases to, and with which time constant, seconds. */
  readonly rest: number;
  readonly ease: number;
}

const CENTS_2 = 2 ** (2 / 1200) - 1;

/**
 * General MIDI percussion keys (from memory): a hi-hat open (46) is shut by the hand's closed stroke
 * (42) and by the pedal (44), and by its own next stroke.
 */
const HATS = { 46: [42, 44, 46], 44: [42, 44, 46], 42: [42, 44, 46] } as const;

/**
 * Time is kept on ride and hi-hat: they come forward, bass drum and snare a little back (our choice; the
 * source is levelled for louder music).
 */
const SWING = { 51: 4, 53: 2, 59: 4, 42: 6.5, 44: 6, 46: 4, 37: 5, 35: -1, 36: -1, 38: -2, 40: -2 } as const;
/** Brushes are soft: all their strokes come forward (our choice). */
const BRUSHED = { ...SWING, 38: 4.5, 39: 4.5, 40: -1 } as const;

const KIT = { release: null, stray: 0, skip: 0.0004, endedBy: HATS, damp: 0.012 } as const;
const STRINGS = { stray: CENTS_2, skip: 0 } as const;

/**
 * A brush circling on the snare (key 40 of the brush kit) sounds for as long as its circle is written and
 * passes into the next one, so that the brushes are one unbroken bed. Our choice, by measure: the circle
 * is heard as a pulse of some 4 dB in a level that never falls away.
 */
const CIRCLING = {
  release: 0.14,
  endedBy: { 40: [40] },
  damp: 0.09,
  sweep: { rise: 0.035, rest: 0.62, ease: 0.28 },
} as const;

/** The touch of one key, where it differs from that of its instrument. */
const KEY_TOUCHES: Readonly<Partial<Record<Instrument, Readonly<Record<number, Partial<Touch>>>>>> = {
  brushes: { 40: CIRCLING },
};

const TOUCHES: Readonly<Record<Instrument, Touch>> = {
  bass: { ...STRINGS, release: 0.05, dark: 450, bright: 7000, endedBy: 'any', damp: 0.02 },
  'electric-piano': { ...STRINGS, release: 0.08, dark: 300, bright: 8000, endedBy: 'same key', damp: 0.03 },
  piano: { ...STRINGS, release: 0.1, dark: 900, bright: 16000, endedBy: 'same key', damp: 0.04 },
  guitar: { ...STRINGS, release: 0.06, dark: 800, bright: 8000, endedBy: 'same key', damp: 0.02 },
  sticks: { ...KIT, dark: 2200, bright: 20000, balance: SWING },
  brushes: { ...KIT, dark: 1800, bright: 16000, balance: BRUSHED },
  click: { ...KIT, skip: 0, dark: 3000, bright: 20000 },
};

/** How an instrument answers to the hand on a key. */
export function touchOf(instrument: Instrument, key: number): Touch {
  const own = KEY_TOUCHES[instrument]?.[key];
  return own === undefined ? TOUCHES[instrument] : { ...TOUCHES[instrument], ...own };
}

/** Who plays when nobody has said otherwise. */
export const FIRST_LINEUP: Lineup = {
  comp: 'electric-piano',
  bass: 'bass',
  drums: 'sticks',
  click: 'click',
};

/** The instruments a line-up plays on. */
export const instrumentsOf = (lineup: Lineup): readonly Instrument[] =>
  PARTS.map((part) => lineup[part]).filter((instrument) => instrument !== undefined);
