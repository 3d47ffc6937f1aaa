import type { SheetBar, SheetSign } from '../../engine/index.ts';

/** A bar with the width it is drawn in. */
interface LaidBar {
  readonly bar: SheetBar;
  readonly width: number;
}

/** Bars that share a line. Lengths in units of the drawing: a staff is 40 high. */
export interface LaidSystem {
  readonly bars: readonly LaidBar[];
  /** Room above and beneath the staff for what leaves it. */
  readonly above: number;
  readonly below: number;
}

/** Room for the clef at the head of a line, and for a metre. */
const HEAD = 42;
const METRE = 24;
/** Lead-in and lead-out of a bar. */
const MARGIN = 26;
/** The last line is not filled to its end where it has less music than this share of its width. */
const STRETCH = 0.62;
const MOST = 4;

/** Least width of a sign: long ones want more, accidentals their own. */
function signWidth({ value, note, dotted }: SheetSign): number {
  const base = { 1: 44, 2: 36, 4: 28, 8: 21, 16: 17 }[value];
  return base + (note?.accidental == null ? 0 : note.accidental.length > 1 ? 15 : 10) + (dotted ? 6 : 0);
}

const barWidth = (bar: SheetBar): number =>
  MARGIN +
  (bar.newMetre ? METRE : 0) +
  Math.max(
    56,
    bar.signs.reduce((sum, sign) => sum + signWidth(sign), 0),
  );

/**
 * Bars in lines that fit a width: as many as there is room for, four at the most and never three where two and
 * two do, each as wide as its music asks.
 */
export function layout(bars: readonly SheetBar[], width: number, clef: Clef): readonly LaidSystem[] {
  const systems: LaidSystem[] = [];
  let from = 0;
  while (from < bars.length) {
    const wanted = bars.slice(from, from + MOST).map(barWidth);
    let count = 1;
    let used = HEAD + wanted[0]!;
    while (count < wanted.length && used + wanted[count]! <= width) used += wanted[count++]!;
    if (count === 3 && bars.length - from > 3) used -= wanted[--count]!;
    const isLast = from + count === bars.length;
    systems.push(laid(bars.slice(from, from + count), wanted.slice(0, count), used, width, clef, isLast));
    from += count;
  }
  return systems;
}

function laid(
  bars: readonly SheetBar[],
  wanted: readonly number[],
  used: number,
  width: number,
  clef: Clef,
  isLast: boolean,
): LaidSystem {
  const isFilled = !isLast || used > STRETCH * width;
  const stretch = isFilled ? (width - HEAD - 2) / (used - HEAD) : 1.35;
  return {
    bars: bars.map((bar, i) => ({ bar, width: wanted[i]! * stretch + (i === 0 ? HEAD : 0) })),
    ...extent(bars, clef),
  };
}

/** The lowest line of a staff, in steps from C0: E4 in the treble clef, G2 in the bass clef. */
const BOTTOM = { treble: 30, bass: 18 };
export type Clef = keyof typeof BOTTOM;
/** A step is half a space; the top line lies eight above the bottom one, the middle line four. */
const STEP = 5;
/** A stem is three and a half spaces long. */
const STEM = 35;
/** A flat, the tallest of the accidentals, rises this far into the air over its note's head. */
const ACCIDENTAL = 6;

/** How far notes, stems, accents and triplets leave the staff. */
function extent(bars: readonly SheetBar[], clef: Clef): Pick<LaidSystem, 'above' | 'below'> {
  let [above, below, signs] = [0, 0, 0];
  for (const { note, triplet } of bars.flatMap((bar) => bar.signs)) {
    if (note === null) continue;
    const step = note.place.octave * 7 + 'CDEFGAB'.indexOf(note.place.letter) - BOTTOM[clef];
    const isUp = step < 4;
    const rise = isUp ? STEM : note.accidental === null ? 0 : ACCIDENTAL;
    above = Math.max(above, (step - 8) * STEP + rise);
    below = Math.max(below, -step * STEP + (isUp ? 0 : STEM));
    signs = Math.max(signs, (note.accent ? 10 : 0) + (triplet === null ? 0 : 16));
  }
  return { above: above + signs + 8, below: below + 26 };
}
