/**
 * What the forms know of the hand. Frets are counted, the first and the last of a stretch included;
 * prices are in one unit.
 */

/** A finger to a fret, and one more: what a hand covers with a slight stretch. Common practice. */
export const HAND = 5;
/** One fret beyond, for the index finger back or the little finger on. Common practice. */
export const STRETCH = 1;
/** As far as a hand covers on one string. Common practice. */
export const ON_ONE_STRING = 5;

/**
 * How many frets a form may cover: {@link HAND} and {@link STRETCH}, or as many as lie between two open
 * strings where those are further apart, since no pitch may be left out between them.
 * @param steps the open strings in ascending order
 */
export const widest = (open: readonly number[]): number => Math.max(HAND + STRETCH, apart(open));

/** How many frets of one string a form may cover. */
export const widestOnString = (open: readonly number[]): number => Math.max(ON_ONE_STRING, apart(open));

const apart = (open: readonly number[]): number =>
  open.reduce((most, key, i) => (i === 0 ? 0 : Math.max(most, key - open[i - 1]!)), 0);

/** What makes a form awkward. Our choice, because with it the search finds the five forms players know. */
export const AWKWARD = Object.freeze({
  /** By how many frets it is wider than four. */
  width: Object.freeze([0, 1, 4]),
  /** Each fret beyond those. */
  wider: 5,
  /** Each note the fingers have to stretch to. */
  stretch: 0.3,
  /** A string of so many notes, from none up; each beyond those. */
  notes: Object.freeze([3, 1.5, 0, 0, 1]),
  more: 3,
  /** How unevenly the forms stand on the neck: the squared frets away from where each would stand. */
  uneven: 0.5,
});

/** Five forms to the octave of twelve frets. Common practice. */
export const FORMS_PER_OCTAVE = 5;
