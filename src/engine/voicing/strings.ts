/**
 * What the grips know of the instrument and the hand. Strings stand from the lowest to the highest, as
 * MIDI keys; lengths are parts of the string.
 */

/** Our choice, because further up four strings are hard to reach at the body and thin to comp on. */
export const LAST_FRET = 15;

/** A hand covers a fret for each finger, and one more where they lie close. Common practice. */
export const MOST_FRETS = 5;

/**
 * As far as from the first fret to the fourth, computed from equal temperament: four frets anywhere,
 * five from the sixth fret up.
 */
export const LONGEST_STRETCH = 2 ** (-1 / 12) - 2 ** (-4 / 12) + 1e-9;

/** One silent string inside the grip, as drop-3 has it; a second is no longer damped by the fingers beside it. */
export const MOST_SKIPPED = 1;

/** What makes a grip laborious, each in one unit. Our choice, for putting the easy ones first. */
export const EFFORT = Object.freeze({
  /** Each fret of span from the third on. */
  span: 1,
  barre: 0.5,
  /** Each silent string inside. */
  skip: 0.5,
  /** Each finger away from the fret it would fall on by itself. */
  strain: 0.5,
  /** Each fret of position above {@link HOME}. */
  high: 0.25,
  /** Neither of the two highest strings sounds: the grip is dark. */
  dark: 0.75,
});

/** Up to this fret the hand sits well. Our choice. */
export const HOME = 8;

/** Grips up to this effort are used to comp with, where a chord has any. Our choice. */
export const COMFORTABLE = 1.5;

/** MIDI key about which chords on the guitar rest: G3, the middle of the four upper strings. Our choice. */
export const NECK_CENTRE = 58;

/** What a fret of travel and a string newly taken up cost, in the unit of {@link EFFORT}. Our choice. */
export const SHIFT = 0.5;
export const STRING_CHANGE = 0.75;
