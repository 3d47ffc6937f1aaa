import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cheapestLine, type LinePrices } from '../../../src/engine/band/line.ts';

/** Prices without any pattern, so that only a true search finds the least. */
const prices = (seed: number): LinePrices => {
  const mix = (...parts: number[]) => {
    let value = seed;
    for (const part of parts) value = Math.imul(value ^ (part + 0x9e37), 0x85ebca6b) ^ (value >>> 13);
    return ((value >>> 0) % 1000) / 100 - 3;
  };
  return {
    own: (index, note) => mix(1, index, note),
    step: (index, before, note) => mix(2, index, before, note),
    turn: (index, first, second, note) => mix(3, index, first, second, note),
  };
};

function priceOf(line: readonly number[], from: number | null, { own, step, turn }: LinePrices): number {
  const played = from === null ? [...line] : [from, ...line];
  const skip = played.length - line.length;
  let sum = 0;
  line.forEach((note, index) => {
    const [second, first] = [played[index + skip - 1], played[index + skip - 2]];
    sum += own(index, note);
    if (second !== undefined) sum += step(index, second, note);
    if (second !== undefined && first !== undefined) sum += turn(index, first, second, note);
  });
  return sum;
}

function everyLine(places: readonly (readonly number[])[]): readonly number[][] {
  return places.reduce<number[][]>(
    (lines, place) => lines.flatMap((line) => place.map((note) => [...line, note])),
    [[]],
  );
}

describe('the cheapest line', () => {
  it('is the least of all lines there are', () => {
    const place = fc.uniqueArray(fc.integer({ min: 28, max: 55 }), { minLength: 1, maxLength: 4 });
    fc.assert(
      fc.property(
        fc.array(place, { minLength: 1, maxLength: 5 }),
        fc.option(fc.integer({ min: 28, max: 55 })),
        fc.integer(),
        (places, from, seed) => {
          const rules = prices(seed);
          const least = Math.min(...everyLine(places).map((line) => priceOf(line, from, rules)));
          expect(priceOf(cheapestLine(places, from, rules), from, rules)).toBeCloseTo(least, 9);
        },
      ),
    );
  });

  it('of no places is empty', () => {
    expect(cheapestLine([], 40, prices(1))).toEqual([]);
  });

  it('cannot pass a place with nothing to choose', () => {
    expect(() => cheapestLine([[40], []], null, prices(1))).toThrow(RangeError);
  });
});
