import { describe, expect, it } from 'vitest';
import { beats, settingsIn, startPerformance, ticks } from '../../../src/engine/index.ts';
import { planOf, SETTINGS } from '../../helpers/plan.ts';

const CALM = { ...SETTINGS, intensity: 0.3, density: 0.4 };
const FORM = '| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Cmaj7 | % |';
const ROUND = 8 * beats(4);

describe('a build', () => {
  it('rises evenly over its rounds, then begins anew', () => {
    const rounds = [0, 1, 2, 3, 4].map((round) => settingsIn({ ...CALM, build: 4 }, round));
    const intensities = rounds.map(({ intensity }) => intensity);
    expect(intensities[0]).toBe(0.3);
    expect(intensities[1]! - intensities[0]!).toBeCloseTo(intensities[3]! - intensities[2]!, 10);
    expect(intensities[3]).toBeGreaterThan(0.9);
    expect(intensities[4]).toBe(0.3);
    expect(rounds[3]!.density).toBeGreaterThan(rounds[0]!.density);
  });

  it('never lowers what is set higher, nor leaves the scale', () => {
    for (const set of [0, 0.5, 0.97, 1]) {
      for (let round = 0; round < 8; round++) {
        const { intensity, density } = settingsIn({ ...CALM, intensity: set, density: set, build: 8 }, round);
        expect(intensity).toBeGreaterThanOrEqual(set);
        expect(density).toBeGreaterThanOrEqual(set);
        expect(Math.max(intensity, density)).toBeLessThanOrEqual(1);
      }
    }
  });

  it('leaves everything as it is where none is asked for', () => {
    expect(settingsIn(CALM, 5)).toBe(CALM);
  });

  it('is heard: every round of four is played harder, and by more strokes, than the first', () => {
    const performance = startPerformance(planOf(FORM, { settings: { ...CALM, build: 4 } }), {
      countIn: 0,
      from: ticks(0),
    });
    const heard = [0, 1, 2, 3].map((round) => {
      const notes = performance
        .notes(ticks(round * ROUND), ticks((round + 1) * ROUND))
        .filter(({ part }) => part !== 'click');
      const drums = notes.filter(({ part }) => part === 'drums').length;
      return { drums, force: notes.reduce((sum, { velocity }) => sum + velocity, 0) / notes.length };
    });
    for (let i = 1; i < 4; i++) expect(heard[i]!.force).toBeGreaterThan(heard[i - 1]!.force + 3);
    expect(heard[3]!.drums).toBeGreaterThan(heard[0]!.drums);
  });

  it('takes a two-feel into four', () => {
    const settings = { ...CALM, feel: 'two-feel', build: 3 };
    const performance = startPerformance(planOf(FORM, { settings }), { countIn: 0, from: ticks(0) });
    const [first, third] = [0, 2].map(
      (round) =>
        performance
          .notes(ticks(round * ROUND), ticks((round + 1) * ROUND))
          .filter(({ part }) => part === 'bass').length,
    );
    expect(first).toBeLessThan(26);
    expect(third).toBeGreaterThanOrEqual(32);
  });
});
