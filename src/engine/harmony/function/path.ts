import type { Stretch } from './chords.ts';
import { COSTS } from './data.ts';
import { hear, type Hearing, type KeyState } from './hear.ts';

/** The 24 keys. */
export const KEYS: readonly KeyState[] = Object.freeze(
  Array.from({ length: 24 }, (_, index) =>
    Object.freeze({ tonic: index % 12, mode: index < 12 ? ('major' as const) : ('minor' as const) }),
  ),
);

/**
 * The indices of the keys, counted up from a tonic: ties fall alike in every transposition.
 * @param tonic a pitch class
 */
export const keysFrom = (tonic: number): readonly number[] =>
  [0, 12].flatMap((mode) => Array.from({ length: 12 }, (_, step) => ((tonic + step) % 12) + mode));

/** A way through the chart: one key for each stretch, and what it costs in all. */
export interface Path {
  readonly cost: number;
  readonly keys: readonly number[];
}

/** Every chord heard in every key. */
export const hearAll = (stretches: readonly Stretch[]): readonly (readonly Hearing[])[] =>
  stretches.map((_, index) => KEYS.map((key) => hear(stretches, index, key)));

/** The keys near to each: its relative, and the one of the other mode on its tonic. */
const NEAR: readonly (readonly number[])[] = KEYS.map(({ tonic, mode }) =>
  mode === 'major' ? [tonic + 12, ((tonic + 9) % 12) + 12] : [tonic, (tonic + 3) % 12],
);

/**
 * The keys that explain the chart with the least straying: the shortest path (Viterbi, IEEE Transactions
 * on Information Theory 13, 1967) through 24 keys at every chord.
 * @param home index of the home key in {@link KEYS}
 */
export function shortestPath(heard: readonly (readonly Hearing[])[], home: number): Path {
  if (heard.length === 0) return { cost: 0, keys: [] };
  const away = (key: number, cost: number): number => (key === home ? 0 : cost);
  const order = keysFrom(home % 12);
  let costs = KEYS.map((_, key) => heard[0]![key]!.cost + away(key, COSTS.away + COSTS.end));
  const cameFrom: number[][] = [];
  for (const hearings of heard.slice(1)) {
    const from: number[] = [];
    const likeliest = order.reduce((best, key) => (costs[key]! < costs[best]! ? key : best));
    costs = KEYS.map((_, key) => {
      let before = key;
      let least = costs[key]!;
      const arrive = (other: number, change: number): void => {
        if (costs[other]! + change < least) [before, least] = [other, costs[other]! + change];
      };
      for (const near of NEAR[key]!) arrive(near, COSTS.nearChange);
      arrive(likeliest, COSTS.change);
      from.push(before);
      return least + hearings[key]!.cost + away(key, COSTS.away);
    });
    cameFrom.push(from);
  }
  let last = home;
  for (const key of order) {
    if (costs[key]! + away(key, COSTS.end) < costs[last]! + away(last, COSTS.end)) last = key;
  }
  const keys = [last];
  for (const from of cameFrom.toReversed()) keys.push(from[keys.at(-1)!]!);
  return { cost: costs[last]! + away(last, COSTS.end), keys: keys.reverse() };
}
