import { describe, expect, it } from 'vitest';
import { barLength, bpm, countIn, PPQ, type Metre } from '../../../src/engine/index.ts';
import { SETTINGS } from './plans.ts';

const FOUR: Metre = { count: 4, unit: 4 };
const places = (metre: Metre, bars: number, tempo = 140) =>
  countIn(metre, bars, { ...SETTINGS, tempo: bpm(tempo) }).map((note) => note.at / PPQ);

describe('a count-in', () => {
  it('of two bars counts one, two, then one two three four', () => {
    expect(places(FOUR, 2)).toEqual([-8, -6, -4, -3, -2, -1]);
  });

  it('of one bar counts every beat', () => {
    expect(places(FOUR, 1)).toEqual([-4, -3, -2, -1]);
    expect(places({ count: 3, unit: 4 }, 1)).toEqual([-3, -2, -1]);
    expect(places({ count: 6, unit: 8 }, 1)).toEqual([-3, -1.5]);
  });

  it('counts every beat throughout where the tempo is slow', () => {
    expect(places(FOUR, 2, 60)).toHaveLength(8);
  });

  it('of no bars is none', () => {
    expect(places(FOUR, 0)).toEqual([]);
  });

  it('lies wholly before the music, and the first beat of a bar sounds different', () => {
    for (const metre of [FOUR, { count: 7, unit: 8 }, { count: 5, unit: 4 }] as const) {
      const notes = countIn(metre, 2, SETTINGS);
      for (const note of notes) {
        expect(note.at + note.length).toBeLessThanOrEqual(0);
        expect(note.part).toBe('click');
        const first = (note.at + 2 * barLength(metre)) % barLength(metre) === 0;
        expect(note.pitch === notes[0]!.pitch).toBe(first);
      }
    }
  });

  it.each([-1, 1.5])('has no %s bars', (bars) => {
    expect(() => countIn(FOUR, bars, SETTINGS)).toThrow(RangeError);
  });
});
