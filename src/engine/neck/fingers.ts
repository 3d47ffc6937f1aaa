import type { Finger } from '../units/index.ts';
import { indexAt } from './windows.ts';

/** What a hand would rather not do on one string. Our choice, because it gives the usual 1-2-4 for three notes. */
const STRAIN = Object.freeze({
  /** A fret more between two fingers than they are apart: the index finger stretches easiest. */
  index: 0.75,
  other: 1.25,
  /** A fret less than they are apart. */
  cramped: 1,
  /** A finger away from the fret it hangs over. */
  moved: 0.4,
  /** One finger for two frets. */
  slid: 3,
});

/**
 * Which finger takes which note of one string: a finger to a fret from the index finger's on, and where
 * the notes reach further, the hand that stretches least.
 * @param frets ascending
 * @param index the fret the index finger rests at
 * @param open the fret of the open string, which needs no finger
 */
export function fingersFor(frets: readonly number[], index: number, open: number): readonly Finger[] {
  const pressed = frets.filter((fret) => fret > open);
  const hand = cheapestHand(pressed, index);
  return frets.map((fret): Finger => (fret > open ? hand[pressed.indexOf(fret)]! : 0));
}

/** So many notes a moving hand takes at a time, and so many frets at most. Our choice, as players group them. */
const GROUP = Object.freeze({ notes: 3, frets: 6 });

/**
 * Fingers for a hand that moves along a string, a few notes at a time.
 * @param frets ascending
 * @param open the fret of the open string, which needs no finger
 */
export function fingersAlong(frets: readonly number[], open: number): readonly Finger[] {
  const fingers: Finger[] = frets.filter((fret) => fret <= open).map(() => 0);
  while (fingers.length < frets.length) {
    const rest = frets.slice(fingers.length, fingers.length + GROUP.notes);
    const group = rest.filter((fret) => fret - rest[0]! < GROUP.frets);
    fingers.push(...cheapestHand(group, indexAt(group)));
  }
  return fingers;
}

/** Hands recur wherever they lie: they are remembered by their frets from the index finger's on. */
const known = new Map<string, readonly Finger[]>();

function cheapestHand(frets: readonly number[], index: number): readonly Finger[] {
  const places = frets.map((fret) => fret - index);
  const key = places.join(' ');
  let hand = known.get(key);
  if (hand === undefined) known.set(key, (hand = searchHand(places)));
  return hand;
}

/** @param places frets counted from the one the index finger rests at, ascending */
function searchHand(places: readonly number[]): readonly Finger[] {
  let hands: readonly { readonly fingers: readonly Finger[]; readonly strain: number }[] = [
    { fingers: [], strain: 0 },
  ];
  for (const [i, place] of places.entries()) {
    hands = hands.flatMap(({ fingers, strain }) =>
      ([1, 2, 3, 4] as const)
        .filter((finger) => i === 0 || finger >= fingers[i - 1]!)
        .map((finger) => ({
          fingers: [...fingers, finger],
          strain:
            strain +
            STRAIN.moved * Math.abs(finger - 1 - place) +
            (i === 0 ? 0 : between(fingers[i - 1]!, finger, place - places[i - 1]!)),
        })),
    );
  }
  return hands.reduce((best, hand) => (hand.strain < best.strain ? hand : best)).fingers;
}

function between(lower: Finger, upper: Finger, frets: number): number {
  if (lower === upper) return STRAIN.slid;
  const more = frets - (upper - lower);
  if (more < 0) return STRAIN.cramped * -more;
  return more * (lower === 1 ? STRAIN.index : STRAIN.other);
}
