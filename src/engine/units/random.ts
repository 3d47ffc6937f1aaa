import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';

/** A repeatable source of chance. */
export interface Random {
  /** The next number, at least 0 and below 1. */
  next(): number;
  /** A whole number from 0 to `count` - 1. */
  below(count: number): number;
  /** True with probability `chance` (0 to 1). */
  chance(chance: number): boolean;
  /** One of `items`, each weighted by `weight` (all alike when left out). */
  pick<T>(items: readonly T[], weight?: (item: T) => number): T;
}

/**
 * A generator for one purpose. The same seed and keys give the same numbers; other keys give
 * unrelated ones, so that a change in one bar or one part leaves the chance of all others alone.
 * @param seed the session's seed
 * @param keys what the numbers are for, e.g. `'comp', round, bar`
 */
export function randomFor(seed: number, ...keys: readonly (string | number)[]): Random {
  const generator = xoroshiro128plus(hash(`${seed}/${keys.join('/')}`));
  const next = () => (generator.next() >>> 0) / 2 ** 32;
  return {
    next,
    below: (count) => Math.floor(next() * count),
    chance: (chance) => next() < chance,
    pick(items, weight = () => 1) {
      if (items.length === 0) throw new RangeError('cannot pick from an empty list');
      const total = items.reduce((sum, item) => sum + weight(item), 0);
      let left = next() * total;
      for (const item of items) {
        left -= weight(item);
        if (left < 0) return item;
      }
      return items[items.length - 1]!;
    },
  };
}

/** FNV-1a over the UTF-16 code units, then MurmurHash3's finalizer: similar keys end far apart. */
function hash(key: string): number {
  let value = 0x811c9dc5;
  for (let i = 0; i < key.length; i++) value = Math.imul(value ^ key.charCodeAt(i), 0x01000193);
  value = Math.imul(value ^ (value >>> 16), 0x85ebca6b);
  value = Math.imul(value ^ (value >>> 13), 0xc2b2ae35);
  return value ^ (value >>> 16);
}
