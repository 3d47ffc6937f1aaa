import { describe, expect, it } from 'vitest';
import { beats, readText, ticks } from '../../src/engine/index.ts';
import { loopWords } from '../../src/ui/dock/loop.ts';

const { form } = readText('Dm7 | G7 | 3/4 Cmaj7 | % |');

describe('where the loop lies is said', () => {
  it.each([
    [4, 8, 'bar 2'],
    [0, 8, 'bars 1 to 2'],
    [6, 8, 'bar 2, beats 3 to 4'],
    [8, 9, 'bar 3, beat 1'],
    [6, 11, 'bar 2, beat 3 to bar 3'],
    [4, 10, 'bar 2 to bar 3, beat 2'],
    [5, 10, 'bar 2, beat 2 to bar 3, beat 2'],
  ])('from quarter %i to %i: %s', (from, to, words) => {
    expect(loopWords(form, { from: ticks(beats(from)), to: ticks(beats(to)) })).toBe(words);
  });
});
