import { fretPlace } from '../../engine/index.ts';

/** What a picture of a neck is drawn from. Lengths in px. */
export interface Drawing {
  readonly width: number;
  readonly height: number;
  readonly strings: number;
  /** The fret of the open strings: that of the capo, or 0. */
  readonly open: number;
  /** The first and the last fret to show; the open strings are shown where they are the first. */
  readonly from: number;
  readonly to: number;
  readonly even: boolean;
  /** Strings run the other way: the nut on the right. */
  readonly left: boolean;
}

/** Where everything is in a picture of a neck. */
export interface Geometry {
  /** Across: the middle of the place where a finger stops a fret, or where an open string is named. */
  across(fret: number): number;
  /** Across: the wire of a fret; the nut's or the capo's for the open strings. */
  wire(fret: number): number;
  /** Down: a string by its number. */
  down(string: number): number;
  /** How wide the place of a fret is. */
  room(fret: number): number;
  /** From string to string. */
  gap: number;
  /** The size of a note. */
  size: number;
  /** The ends of the strings. */
  start: number;
  end: number;
  /** Where the fret numbers stand. */
  numbers: number;
}

/** Room for the names of the strings, for the numbers of the frets, and around. */
const NAMES = 22;
const NUMBERS = 18;
const EDGE = 6;
/** Between an open string's note and the nut. */
const NUT = 8;
/** Notes keep this much of a place's room, and grow no larger. */
const SHARE = 0.92;
const LARGEST = 68;

/**
 * Frets by the rule: the wire of fret n lies at L(1 − 2^(−n/12)) from the nut (equal temperament), cut to the
 * frets shown.
 */
export function geometryOf({ width, height, strings, open, from, to, even, left }: Drawing): Geometry {
  const hasOpen = from <= open;
  /** The wire that the picture begins at. */
  const first = hasOpen ? open : from - 1;
  const gap = Math.max(1, (height - NUMBERS - EDGE) / strings);
  const place = (fret: number): number => (even ? fret : fretPlace(fret));
  const last = to <= first ? first + 1 : to;
  const part = (fret: number): number => (place(fret) - place(first)) / (place(last) - place(first));
  const narrowest = 1 - part(last - 1);
  // The open strings have a place of their own before the nut, as large as a note.
  const before = hasOpen ? Math.min(gap * SHARE + NUT, width / 8, LARGEST + NUT) : 0;
  const length = Math.max(1, width - NAMES - before - EDGE);
  const start = NAMES + before;
  const size = Math.max(4, Math.min(gap * SHARE, narrowest * length * SHARE, LARGEST));
  const turned = (x: number): number => (left ? width - x : x);
  const wire = (fret: number): number => start + length * part(fret);
  return {
    wire: (fret) => turned(wire(fret)),
    across: (fret) =>
      turned(fret <= open && hasOpen ? NAMES + (before - NUT) / 2 : (wire(fret - 1) + wire(fret)) / 2),
    down: (string) => EDGE / 2 + gap * (string - 0.5),
    room: (fret) => (fret <= open && hasOpen ? before : wire(fret) - wire(fret - 1)),
    gap,
    size,
    start: turned(start),
    end: turned(start + length),
    numbers: height - NUMBERS / 2,
  };
}

/** Notes no smaller than this can be told apart, px; also the least size of a target. */
export const LEAST = 25;
/** As far as a neck is shown where there is room: two octaves on the lowest string and a third above. */
export const USUAL_LAST = 15;

/**
 * The frets to show: those the player has asked for; else around the form where it is narrow, or from the
 * open strings on as many as can be told apart.
 */
export function rangeFor(
  width: number,
  open: number,
  even: boolean,
  asked: readonly [number, number] | null,
  form: { readonly firstFret: number; readonly lastFret: number } | null,
  most: number,
): readonly [number, number] {
  if (asked !== null) return [Math.max(asked[0], open), Math.max(asked[1], open + 4)];
  const fits = (from: number, to: number): boolean => {
    const drawing = { width, height: 1e4, strings: 1, open, from, to, even, left: false };
    return geometryOf(drawing).size >= LEAST;
  };
  let to = Math.min(most, open + USUAL_LAST);
  while (to > open + 4 && !fits(open, to)) to--;
  if (form === null || (to >= form.lastFret && form.firstFret >= open && to >= open + 12)) return [open, to];
  let from = Math.max(open, form.firstFret - 1);
  if (from <= open + 1) from = open;
  return [from, Math.min(most, Math.max(form.lastFret + 1, from + 4))];
}

/** The frets that are marked on most necks. Common practice. */
export const inlays = (fret: number): number =>
  fret % 12 === 0 ? 2 : [3, 5, 7, 9].includes(fret % 12) ? 1 : 0;
