import { APPROACH, LEAP, PRICES, type Intention } from './data.ts';
import type { Palette } from './palette.ts';
import type { Slot } from './slots.ts';

/** The price of a note by itself. */
export function ownPrice({ purpose, palette }: Slot, note: number, contour: number): number {
  const pc = note % 12;
  const away = Math.max(0, Math.abs(note - contour) - 4) * PRICES.contour;
  const edge = Math.max(0, 32 - note, note - 48) * PRICES.edge;
  const place = away + edge + Math.max(0, note - 50) * PRICES.chords;
  switch (purpose) {
    case 'ground':
      return place + (pc === palette.ground ? 0 : PRICES.thirdAtChange);
    case 'renewal':
      return place + (pc === palette.ground ? 0 : PRICES.toneAtRenewal);
    case 'tone':
      return place + (pc === palette.ground ? PRICES.rootAgain : 0);
    case 'free':
      if (palette.tones.has(pc)) return place + (pc === palette.ground ? PRICES.rootAgain : 0);
      return place + (palette.scale.has(pc) ? PRICES.scaleTone : PRICES.chromatic);
    default:
      return place;
  }
}

/** The price of going from one note to the next. */
export function stepPrice(
  prior: Slot | undefined,
  before: number,
  slot: Slot | undefined,
  note: number,
  intention: Intention,
): number {
  const size = Math.abs(note - before);
  if (prior?.purpose === 'approach') return approachPrice(prior, before, note);
  if (prior?.purpose === 'next' && size === 0) return PRICES.anticipated;
  if (size === 0 && slot !== undefined && STAYS.has(slot.purpose)) return 0;
  const leap = LEAP[size] ?? beyond(size);
  if (size === 12 && note % 12 !== slot?.palette.ground) return leap + PRICES.idleOctave;
  if (size === 1) return leap + intention.semitone + intention.step / 2;
  if (size === 2) return leap + intention.step;
  if (size >= 3 && size <= 5) return leap + intention.skip;
  return leap;
}

/** The price of a leap of more than an octave: nobody walks so. */
const beyond = (size: number): number => 4 + 0.3 * (size - 12);

/** How well the last note before a change leads into it, the root or its third. */
function approachPrice({ palette, target }: Slot, before: number, note: number): number {
  const size = Math.abs(note - before);
  const fromGoal = (before - (target?.ground ?? before) + 120) % 12;
  if (size === 0) return APPROACH.same;
  if (size === 1) return APPROACH.semitone;
  if (size === 2) return isIn(palette, before % 12) ? APPROACH.toneWithin : APPROACH.toneOutside;
  if (size > 12) return APPROACH.elsewhere + beyond(size);
  if (fromGoal === 7 && note % 12 === target?.ground) return APPROACH.fifth;
  return size <= 4 ? APPROACH.third : APPROACH.elsewhere;
}

const STAYS: ReadonlySet<string> = new Set(['pedal', 'root', 'fifth', 'next']);

/** The price of three notes in a row; `middle` is the slot of the second. */
export function turnPrice(
  middle: Slot,
  first: number,
  second: number,
  note: number,
  intention: Intention,
): number {
  const [one, two] = [second - first, note - second];
  let price = 0;
  if (note === first) price += PRICES.oscillation;
  if (one * two < 0) price += intention.turn;
  if (middle.purpose === 'free' && !middle.palette.tones.has(second % 12)) {
    price += passingPrice(isIn(middle.palette, second % 12), one, two);
  }
  if (one * two > 0 && Math.abs(one) > 2 && Math.abs(two) > 2 && Math.abs(note - first) > 10) {
    price += PRICES.sameWayLeaps;
  }
  if (Math.abs(one) > 7 && one * two >= 0) price += PRICES.leapNotTurned;
  return price;
}

/** What is no chord tone passes: a chromatic note by semitone and onward, a scale note by step. */
function passingPrice(inScale: boolean, one: number, two: number): number {
  if (!inScale) {
    return one * two > 0 && Math.abs(one) <= 2 && Math.abs(two) === 1 ? 0 : PRICES.strandedChromatic;
  }
  return (Math.abs(one) > 2 ? PRICES.leaptTo : 0) + (Math.abs(two) > 2 ? PRICES.leaptFrom : 0);
}

const isIn = (palette: Palette, pc: number): boolean => palette.scale.has(pc);
