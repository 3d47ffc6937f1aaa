import { describe, expect, it } from 'vitest';
import { readChart } from '../../../src/engine/chart/index.ts';

const said = (text: string) => readChart(text).problems.map(({ message, remedy }) => `${message} ${remedy}`);

describe('what is said of a sign that was meant otherwise', () => {
  it.each([
    ['C - F', 'Use / to hold the chord for a beat.'],
    ['C , F', 'Leave a space between two chords, or a bar line | between two bars.'],
    ['1 C', 'An ending is written with a dot: 1.'],
    ['|: C :| x 3', 'A number of times is written right after :|, without a space, e.g. :| 3x.'],
    ['slowly C', 'Words stand in double quotes: "slowly".'],
    ['C D. C.', 'D.C. and D.S. are written without a space.'],
    ['C ] F', 'A rehearsal mark is written in a pair of square brackets: [A].'],
  ])('%s', (text, remedy) => {
    expect(said(text).some((problem) => problem.includes(remedy))).toBe(true);
  });

  it('passes on what would be the right symbol', () => {
    expect(said('C7b99')).toEqual([expect.stringMatching(/^“C7b99”: .* Did you mean C7b9\?$/)]);
  });

  it('names that every object has are no remedy', () => {
    for (const text of ['constructor', 'toString', '__proto__', 'valueOf']) {
      expect(said(text)).toEqual([expect.stringContaining(`“${text}”: `)]);
    }
  });
});

describe('a text full of mistakes', () => {
  it('lists the first two hundred and counts the rest', () => {
    const { problems } = readChart('H7 | '.repeat(1000));
    expect(problems).toHaveLength(201);
    expect(problems.at(-1)!.message).toBe('From here on there are 800 more places like these');
  });

  it('quotes at most the beginning of a long word', () => {
    const { problems } = readChart('x'.repeat(100_000));
    expect(problems.map(({ message }) => message.length < 80)).toEqual([true]);
  });
});
