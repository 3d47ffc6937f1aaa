import { describe, expect, it } from 'vitest';
import { barLength, beatLength, PPQ, type Metre } from '../../../src/engine/index.ts';
import { pulsesOf, strongPulses } from '../../../src/engine/band/pulses.ts';

const metre = (name: string): Metre => {
  const [count, unit] = name.split('/').map(Number) as [number, Metre['unit']];
  return { count, unit };
};

describe('the beats of a bar', () => {
  it.each([
    ['4/4', [1, 1, 1, 1], [4]],
    ['3/4', [1, 1, 1], [3]],
    ['2/4', [1, 1], [2]],
    ['1/4', [1], [1]],
    ['5/4', [1, 1, 1, 1, 1], [3, 2]],
    ['6/4', [1, 1, 1, 1, 1, 1], [3, 3]],
    ['7/4', [1, 1, 1, 1, 1, 1, 1], [4, 3]],
    ['2/2', [1, 1, 1, 1], [4]],
    ['3/2', [1, 1, 1, 1, 1, 1], [2, 2, 2]],
    ['6/8', [1.5, 1.5], [2]],
    ['9/8', [1.5, 1.5, 1.5], [3]],
    ['12/8', [1.5, 1.5, 1.5, 1.5], [4]],
    ['3/8', [1.5], [1]],
    ['5/8', [1, 1.5], [2]],
    ['7/8', [1, 1, 1.5], [3]],
    ['8/8', [1, 1, 1, 1], [4]],
    ['11/8', [1, 1, 1, 1, 1.5], [3, 2]],
    ['7/16', [1, 0.75], [2]],
    ['5/16', [0.75, 0.5], [2]],
    ['6/16', [0.75, 0.75], [2]],
  ] as const)('of %s', (name, lengths, groups) => {
    const found = pulsesOf(metre(name));
    expect(found.lengths.map((length) => length / PPQ)).toEqual(lengths);
    expect(found.groups).toEqual(groups);
  });

  it('add up to the bar, and their groups to the beats, in every metre', () => {
    for (const unit of [1, 2, 4, 8, 16] as const) {
      for (let count = 1; count <= 32; count++) {
        const { lengths, groups } = pulsesOf({ count, unit });
        expect(lengths.reduce((a, b) => a + b, 0)).toBe(barLength({ count, unit }));
        expect(groups.reduce((a, b) => a + b, 0)).toBe(lengths.length);
      }
    }
  });

  it('are the felt beats of the compound metres', () => {
    for (const name of ['6/8', '9/8', '12/8']) {
      expect(pulsesOf(metre(name)).lengths[0]).toBe(beatLength(metre(name)));
    }
  });

  it('are strong where a group begins and in the middle of a four', () => {
    expect([...strongPulses([4])]).toEqual([0, 2]);
    expect([...strongPulses([3, 2])]).toEqual([0, 3]);
    expect([...strongPulses([4, 3])]).toEqual([0, 2, 4]);
  });
});
