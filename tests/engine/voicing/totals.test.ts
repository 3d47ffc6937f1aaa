import { describe, expect, it } from 'vitest';
import { leadVoicings, PURE_MOTION, type Voicing } from '../../../src/engine/voicing/index.ts';
import type { Chord } from '../../../src/engine/harmony/index.ts';
import { chord } from '../../helpers/voicing.ts';
import { AABA, anySpacing, BLUES, greedy, motionAlong, TWO_FIVE_ONE } from './forms.ts';

const shortest = (symbols: readonly string[], among: (symbol: Chord) => readonly Voicing[]) =>
  leadVoicings(
    symbols.map((symbol) => ({ chord: chord(symbol) })),
    { style: 'rootless', loop: false, weights: PURE_MOTION, among },
  );

/** The forms with the tensions left free, and the totals published for forms of their description. */
const ROWS = [
  { name: 'ii–V–I through twelve keys', form: TWO_FIVE_ONE, free: ['maj7'], published: 68 },
  { name: 'a blues in F', form: BLUES, free: ['maj7', 'm7', '7'], published: 34 },
] as const;

describe('total motion by pure shortest path', () => {
  it.each(ROWS)('over $name is at most $published semitones', ({ form, free, published }) => {
    const among = (symbol: Chord) => anySpacing(symbol, free);
    expect(motionAlong(shortest(form, among))).toBeLessThanOrEqual(published);
  });

  it.each([
    ['ii–V–I', TWO_FIVE_ONE],
    ['blues', BLUES],
    ['AABA', AABA],
  ] as const)('over the %s is below that of the nearest voicing each time', (_, form) => {
    const nearest = motionAlong(greedy(form.map(chord), (symbol) => anySpacing(symbol)));
    const least = motionAlong(shortest(form, (symbol) => anySpacing(symbol)));
    expect(least).toBeLessThan(nearest);
  });
});
