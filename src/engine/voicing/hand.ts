import { fretPlace, type Finger, type Stop } from '../units/index.ts';
import { LONGEST_STRETCH, MOST_FRETS, MOST_SKIPPED } from './strings.ts';

/** A finger laid over several strings at one fret. */
export interface Barre {
  readonly fret: number;
  /** The lower and the higher string it reaches, by number: from 6 to 2. */
  readonly from: number;
  readonly to: number;
}

const fretted = (stops: readonly Stop[]): readonly number[] =>
  stops.map(({ fret }) => fret).filter((fret) => fret > 0);

/** The frets lie further apart than a hand opens: it covers as much as four frets at the nut, and five at most. */
export function stretchesTooFar(stops: readonly Stop[]): boolean {
  const frets = fretted(stops);
  const [low, high] = [Math.min(...frets), Math.max(...frets)];
  return high - low >= MOST_FRETS || fretPlace(high) - fretPlace(low) > LONGEST_STRETCH;
}

/** How many strings between the sounding ones stay silent. */
export function skippedStrings(stops: readonly Stop[]): number {
  const strings = stops.map(({ string }) => string);
  return Math.max(...strings) - Math.min(...strings) + 1 - strings.length;
}

/** More silent strings between the sounding ones than the fretting hand can damp. */
export const skipsTooMany = (stops: readonly Stop[]): boolean => skippedStrings(stops) > MOST_SKIPPED;

/** Two voices on one string. */
export const sharesAString = (stops: readonly Stop[]): boolean =>
  new Set(stops.map(({ string }) => string)).size < stops.length;

/** What no hand can hold. */
export const UNPLAYABLE: readonly ((stops: readonly Stop[]) => boolean)[] = [
  sharesAString,
  stretchesTooFar,
  skipsTooMany,
];

/**
 * The barre a grip needs: the index finger over all notes at the lowest fret, when there is more than
 * one. None where an open string sounds beneath it.
 */
export function barreOf(stops: readonly Stop[]): Barre | null {
  const lowest = Math.min(...fretted(stops));
  const strings = stops.filter(({ fret }) => fret === lowest).map(({ string }) => string);
  if (strings.length < 2) return null;
  const [from, to] = [Math.max(...strings), Math.min(...strings)];
  const muted = stops.some(({ string, fret }) => fret === 0 && string < from && string > to);
  return muted ? null : { fret: lowest, from, to };
}

/**
 * Which finger stops which note. Fingers follow the frets, and at one fret the strings from the lowest
 * up; the first has the lowest fret, or all notes at that fret under a barre. Common practice.
 * @returns a finger for each stop, or null when four fingers do not reach
 */
export function fingering(stops: readonly Stop[]): readonly Finger[] | null {
  const barre = barreOf(stops);
  const lowest = Math.min(...fretted(stops));
  const order = stops
    .filter(({ fret }) => fret > 0 && !(barre !== null && fret === barre.fret))
    .sort((a, b) => a.fret - b.fret || b.string - a.string);
  const hands = barre === null ? chooseFingers(order, 0, lowest) : chooseFingers(order, 1, lowest);
  if (hands.length === 0) return null;
  const strain = (hand: readonly number[]) =>
    hand.reduce((sum, finger, i) => sum + Math.abs(finger - 1 - (order[i]!.fret - lowest)), 0);
  const best = hands.reduce((least, hand) => (strain(hand) < strain(least) ? hand : least));
  return stops.map((stop): Finger => {
    if (stop.fret === 0) return 0;
    const at = order.indexOf(stop);
    return at < 0 ? 1 : (best[at]! as Finger);
  });
}

/** Ascending fingers above `used` for stops in order, neighbours never further apart than they open. */
function chooseFingers(order: readonly Stop[], used: number, fret: number): readonly (readonly number[])[] {
  const [next, ...rest] = order;
  if (next === undefined) return [[]];
  const hands: (readonly number[])[] = [];
  for (let finger = used + 1; finger <= 4; finger++) {
    // Nothing holds the first finger back; after it each opens a fret more than its number.
    if (used > 0 && next.fret - fret > finger - used + 1) continue;
    for (const hand of chooseFingers(rest, finger, next.fret)) hands.push([finger, ...hand]);
    if (used === 0) break;
  }
  return hands;
}
