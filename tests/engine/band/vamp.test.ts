import { describe, expect, it, vi } from 'vitest';
import {
  beats,
  startPerformance,
  STYLES,
  ticks,
  type NoteEvent,
  type VoicingStyle,
} from '../../../src/engine/index.ts';
import { isVamp } from '../../../src/engine/band/vamp.ts';
import { planOf, SETTINGS } from '../../helpers/plan.ts';
import { changesOf, FORMS, strokesIn } from './plans.ts';

// Thousands of bars on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const BAR = beats(4);
const BARS = 200;
const vamp = (text: string, seed: number, voicing: VoicingStyle = 'rootless') =>
  startPerformance(planOf(text, { settings: { ...SETTINGS, seed, voicing } }), {
    countIn: 0,
    from: ticks(0),
  }).notes(ticks(0), ticks(BARS * BAR));
const voicingsOf = (notes: readonly NoteEvent[]) =>
  strokesIn(notes.filter(({ part }) => part === 'comp')).map((stroke) =>
    stroke.map(({ pitch }) => pitch).sort((a, b) => a - b),
  );
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

/** How often each of the words comes, the commonest first. */
function tally(words: readonly string[]): readonly number[] {
  const counts = new Map<string, number>();
  for (const word of words) counts.set(word, (counts.get(word) ?? 0) + 1);
  return [...counts.values()].sort((a, b) => b - a);
}

describe('two hundred bars of one altered chord', () => {
  it.each(['rootless', 'drop-2', 'shell'] as const)('are voiced in many ways, led by step: %s', (style) => {
    for (const seed of [1, 2, 3]) {
      const voicings = voicingsOf(vamp('| C7alt |', seed, style));
      const counts = tally(voicings.map((keys) => keys.join(' ')));
      expect(counts.length).toBeGreaterThan(16);
      expect(counts[0]! / voicings.length).toBeLessThan(0.15);
      const moves = voicings
        .slice(1)
        .map((keys, i) => keys.map((key, v) => Math.abs(key - voicings[i]![v]!)));
      expect(mean(moves.flat())).toBeLessThan(1.6);
      expect(mean(moves.map((voices) => voices[3]!))).toBeLessThan(2.1);
      expect(moves.filter((voices) => voices.every((move) => move === 0)).length).toBeLessThan(4);
    }
  });

  it('lie higher and lower by turns, at most a fifth above the keys of the style', () => {
    const tops = voicingsOf(vamp('| C7alt |', 1)).map((keys) => keys[3]!);
    const { high } = STYLES.rootless;
    expect(Math.max(...tops)).toBeGreaterThan(high);
    expect(Math.max(...tops)).toBeLessThanOrEqual(high + 7);
    expect(Math.max(...tops) - Math.min(...tops)).toBeGreaterThan(12);
  });

  it('are walked through in many ways: no bar of the bass comes often', () => {
    for (const seed of [1, 2, 3]) {
      const line = vamp('| C7alt |', seed).filter(
        ({ part, why }) => part === 'bass' && !/^(skip|drop)/.test(why),
      );
      const bars = Array.from({ length: BARS }, (_, bar) =>
        line
          .filter(({ at }) => Math.floor(at / BAR) === bar)
          .map(({ pitch }) => pitch)
          .join(' '),
      );
      const counts = tally(bars);
      expect(counts.length).toBeGreaterThan(0.6 * BARS);
      expect(counts[0]!).toBeLessThan(0.06 * BARS);
      expect(bars.filter((bar, i) => bar === bars[i - 1]).length).toBeLessThan(0.03 * BARS);
      const steps = line.slice(1).filter(({ pitch }, i) => Math.abs(pitch - line[i]!.pitch) <= 2);
      expect(steps.length / line.length).toBeGreaterThan(0.5);
    }
  });

  it('have neither natural fifth nor natural ninth in the bass', () => {
    for (const note of vamp('| C7alt |', 4)) {
      if (note.part === 'bass') expect([7, 2]).not.toContain(note.pitch % 12);
    }
  });
});

describe('a vamp', () => {
  it('is a form whose chords last four bars or more on average', () => {
    expect(isVamp(changesOf(FORMS['one chord']!))).toBe(true);
    expect(isVamp(changesOf('Dm7 | Dm7 | Dm7 | Dm7 | Ebm7 | Ebm7 | Ebm7 | Ebm7'))).toBe(true);
    expect(isVamp(changesOf(FORMS['twelve-bar blues']!))).toBe(false);
    expect(isVamp(changesOf(FORMS['two-five-ones']!))).toBe(false);
  });
});
