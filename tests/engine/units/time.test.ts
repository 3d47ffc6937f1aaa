import { describe, expect, it } from 'vitest';
import {
  barLength,
  beatLength,
  beats,
  bpm,
  COMMON_TIME,
  PPQ,
  secondsOf,
  ticks,
} from '../../../src/engine/units/index.ts';

describe('musical time', () => {
  it('shares a bar of four evenly among every usual number of chords', () => {
    for (const chords of [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 15, 16]) {
      expect(Number.isInteger(barLength(COMMON_TIME) / chords), `${chords} chords`).toBe(true);
    }
  });

  it('feels 6/8 in two and 3/4 in three', () => {
    expect(beatLength({ count: 6, unit: 8 })).toBe(PPQ * 1.5);
    expect(beatLength({ count: 3, unit: 4 })).toBe(PPQ);
  });

  it('lasts half a second a beat at 120', () => {
    expect(secondsOf(beats(1), bpm(120))).toBe(0.5);
  });

  it('refuses fractions of a tick and tempi no band plays, and quotes them', () => {
    expect(() => ticks(0.5)).toThrow(/0\.5/);
    expect(() => bpm(4000)).toThrow(/4000/);
  });
});
