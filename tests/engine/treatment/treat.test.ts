import { describe, expect, it } from 'vitest';
import {
  sliceChanges,
  treat,
  writtenChanges,
  type TreatmentLayers,
} from '../../../src/engine/treatment/index.ts';
import { beats } from '../../../src/engine/units/index.ts';
import { changesOf } from '../../helpers/changes.ts';
import { drawChanges, placed, rule } from '../../helpers/treated.ts';

const FIRST = { round: 0, seed: 1 };
const treated = (text: string, layers: Partial<TreatmentLayers>, round = 0) =>
  drawChanges(treat(changesOf(text), { placed: [], rules: [], ...layers }, { ...FIRST, round }));

describe('the changes as written', () => {
  it.each([
    ['a symbol written anew begins a span', 'G7 | G7', 'G7 4, G7 4'],
    ['a simile mark goes on', 'G7 | % | %', 'G7 12'],
    ['a simile of two chords begins anew', 'Dm7 G7 | %', 'Dm7 2, G7 2, Dm7 2, G7 2'],
    ['slashes hold over the bar line', 'C | / / G7 /', 'C 6, G7 2'],
    ['an empty bar goes on', '| C | | F |', 'C 8, F 4'],
    ['each time through a repeat begins anew', '|: G7 :| 3x', 'G7 4, G7 4, G7 4'],
    ['silence stands among the chords', 'N.C. | H7 | C', 'N.C. 4, ? 4, C 4'],
    ['a held silence goes on', 'N.C. | %', 'N.C. 8'],
  ])('%s', (_, text, expected) => {
    expect(drawChanges(changesOf(text))).toBe(expected);
  });

  it('point back to their bar in the chart and their place in the text', () => {
    const { bars, spans } = changesOf('|: [A] Dm7 | G7 :| C');
    expect(bars.map(({ written, mark }) => [written, mark])).toEqual([
      [0, 'A'],
      [1, null],
      [0, 'A'],
      [1, null],
      [2, null],
    ]);
    expect(spans.map(({ bar, from }) => [bar, from])).toEqual([
      [0, 7],
      [1, 13],
      [2, 7],
      [3, 13],
      [4, 19],
    ]);
  });

  it('of an empty form are empty', () => {
    expect(writtenChanges({ length: beats(0), bars: [], problems: [] })).toEqual({
      length: 0,
      bars: [],
      spans: [],
    });
  });
});

describe('placed by hand', () => {
  it.each([
    ['two beats of a dominant', 'Dm7 | G7 | C', [placed('altered', 1, 2, 2)], 'Dm7 4, G7 2, G7alt! 2, C 4'],
    ['in the middle', 'G7 | C', [placed('altered', 0, 1, 2)], 'G7 1, G7alt! 2, G7 1, C 4'],
    [
      'over the bar line, as far as the dominant goes',
      'G7 | % | C',
      [placed('altered', 0, 2, 12)],
      'G7 2, G7alt! 6, C 4',
    ],
    [
      'only the dominants beneath it',
      'Dm7 G7 | C A7',
      [placed('altered', 0, 0, 8)],
      'Dm7 2, G7alt! 2, C 2, A7alt! 2',
    ],
    [
      'at every pass of its bar',
      '|: G7 | C :|',
      [placed('altered', 0, 2, 2)],
      'G7 2, G7alt! 2, C 4, G7 2, G7alt! 2, C 4',
    ],
    ['on a bar that holds no dominant it waits', 'Dm7 | C', [placed('altered', 0, 0, 4)], 'Dm7 4, C 4'],
    [
      'on a bar that is not there it waits',
      'G7',
      [placed('altered', 7, 0, 4), placed('altered', -1, 0, 4)],
      'G7 4',
    ],
    [
      'the later one wins where two overlap',
      'G7 | C',
      [placed('altered', 0, 0, 3), placed('sharp-eleven', 0, 2, 2)],
      'G7alt! 2, G7#11! 2, C 4',
    ],
    [
      'the earlier one goes on around the later',
      'G7 | C',
      [placed('altered', 0, 0, 4), placed('flat-nine', 0, 1, 1)],
      'G7alt! 1, G7b9! 1, G7alt! 2, C 4',
    ],
  ])('%s', (_, text, hands, expected) => {
    expect(treated(text, { placed: hands })).toBe(expected);
  });
});

describe('by rule', () => {
  it.each([
    [
      'dominants that fall a fifth',
      'G7 | C | D7 | Em7',
      [rule('altered', 'falling-fifth')],
      'G7alt~ 4, C 4, D7 4, Em7 4',
    ],
    [
      'round the loop into the first chord',
      'C | Dm7 | G7',
      [rule('altered', 'falling-fifth')],
      'C 4, Dm7 4, G7alt~ 4',
    ],
    [
      'dominants that fall a semitone',
      'Db7 | C | G7 | Em7',
      [rule('sharp-eleven', 'falling-semitone')],
      'Db7#11~ 4, C 4, G7 4, Em7 4',
    ],
    ['every dominant', 'C7 | F7 | Gm7', [rule('flat-nine', 'every-dominant')], 'C7b9~ 4, F7b9~ 4, Gm7 4'],
    [
      'all but the one that leads home',
      'Cmaj7 | A7 | Dm7 | G7',
      [rule('altered', 'secondary')],
      'Cmaj7 4, A7alt~ 4, Dm7 4, G7 4',
    ],
    [
      'the last two beats',
      'G7 | % | C',
      [rule('altered', 'falling-fifth', { extent: { type: 'last', length: beats(2) } })],
      'G7 6, G7alt~ 2, C 4',
    ],
    [
      'the first beat',
      'G7 | C',
      [rule('altered', 'falling-fifth', { extent: { type: 'first', length: beats(1) } })],
      'G7alt~ 1, G7 3, C 4',
    ],
    [
      'more than there is',
      'Dm7 G7 | C',
      [rule('altered', 'falling-fifth', { extent: { type: 'last', length: beats(9) } })],
      'Dm7 2, G7alt~ 2, C 4',
    ],
    [
      'a dominant written twice is one',
      'G7 | G7b9 | C',
      [rule('altered', 'falling-fifth', { extent: { type: 'last', length: beats(6) } })],
      'G7 2, G7alt~ 2, G7alt~ 4, C 4',
    ],
    [
      'a dominant that is suspended before it is one',
      'G7sus G7 | C',
      [rule('altered', 'falling-fifth')],
      'G7alt~ 2, G7alt~ 2, C 4',
    ],
    [
      'only in some bars of the form',
      'C7 | % | % | % | F7',
      [rule('altered', 'every-dominant', { bars: [4] })],
      'C7 12, C7alt~ 4, F7 4',
    ],
    [
      'the end of a bar named in the rule',
      'C7 | % | F7',
      [rule('altered', 'every-dominant', { bars: [1], extent: { type: 'last', length: beats(1) } })],
      'C7 3, C7alt~ 1, C7 4, F7 4',
    ],
    [
      'silence before the resolution changes nothing',
      'G7 N.C. | C',
      [rule('altered', 'falling-fifth')],
      'G7alt~ 2, N.C. 2, C 4',
    ],
    ['a dominant alone resolves nowhere', 'C7alt', [rule('flat-nine', 'falling-fifth')], 'C7alt 4'],
    [
      'the later rule wins',
      'G7 | C',
      [rule('altered', 'falling-fifth'), rule('flat-nine', 'every-dominant')],
      'G7b9~ 4, C 4',
    ],
  ])('%s', (_, text, rules, expected) => {
    expect(treated(text, { rules })).toBe(expected);
  });

  it('the hand wins, and can take a place out of it', () => {
    expect(
      treated('G7 | C | A7 | Dm7', {
        rules: [rule('altered', 'falling-fifth')],
        placed: [placed('plain', 0, 0, 2)],
      }),
    ).toBe('G7! 2, G7alt~ 2, C 4, A7alt~ 4, Dm7 4');
  });
});

describe('suspended first', () => {
  it.each([
    ['a bar', 'G7 | C', 0, 4, 'G7sus! 2, G7! 2, C 4'],
    ['two beats', 'G7 | C', 2, 2, 'G7 2, G7sus! 1, G7! 1, C 4'],
    ['one beat', 'G7 | C', 3, 1, 'G7 3, G7sus! 0.5, G7! 0.5, C 4'],
    ['three beats are two and one', '3/4 G7 | C', 0, 3, 'G7sus! 2, G7! 1, C 3'],
    ['the chord it resolves to is the one written', 'G7b9 | C', 0, 4, 'G7sus! 2, G7b9! 2, C 4'],
    ['a suspended chord resolves too', 'G9sus | C', 0, 4, 'G7sus! 2, G7! 2, C 4'],
    ['two bars', 'G7 | % | C', 0, 8, 'G7sus! 4, G7! 4, C 4'],
  ])('%s', (_, text, at, length, expected) => {
    expect(treated(text, { placed: [placed('suspended-first', 0, at, length)] })).toBe(expected);
  });
});

describe('in some rounds', () => {
  it('every second round is the second, the fourth and so on', () => {
    const hands = [placed('altered', 0, 0, 4, { when: { type: 'every', nth: 2 } })];
    const rounds = [0, 1, 2, 3].map((round) => treated('G7', { placed: hands }, round));
    expect(rounds).toEqual(['G7 4', 'G7alt! 4', 'G7 4', 'G7alt! 4']);
  });

  it('by chance comes about as often as it says, at each place for itself, the same for the same seed', () => {
    const rules = [rule('altered', 'every-dominant', { when: { type: 'chance', chance: 0.3 } })];
    const changes = changesOf('G7 | C | A7 | Dm7');
    const drawn = Array.from({ length: 400 }, (_, round) =>
      treat(changes, { placed: [], rules }, { round, seed: 7 }),
    );
    const count = (index: number) => drawn.filter(({ spans }) => spans[index]!.treatment !== null).length;
    for (const index of [0, 2]) {
      expect(count(index)).toBeGreaterThan(80);
      expect(count(index)).toBeLessThan(160);
    }
    expect(drawn.some(({ spans }) => (spans[0]!.treatment === null) !== (spans[2]!.treatment === null))).toBe(
      true,
    );
    const again = Array.from({ length: 400 }, (_, round) =>
      treat(changes, { placed: [], rules }, { round, seed: 7 }),
    );
    expect(again).toEqual(drawn);
    const other = Array.from({ length: 400 }, (_, round) =>
      treat(changes, { placed: [], rules }, { round, seed: 8 }),
    );
    expect(other).not.toEqual(drawn);
  });

  it('never by chance 0, always by chance 1', () => {
    for (let round = 0; round < 20; round++) {
      expect(
        treated(
          'G7',
          { placed: [placed('altered', 0, 0, 4, { when: { type: 'chance', chance: 0 } })] },
          round,
        ),
      ).toBe('G7 4');
      expect(
        treated(
          'G7',
          { placed: [placed('altered', 0, 0, 4, { when: { type: 'chance', chance: 1 } })] },
          round,
        ),
      ).toBe('G7alt! 4');
    }
  });
});

describe('every treatment explains itself', () => {
  const reasons = (text: string, layers: Partial<TreatmentLayers>) =>
    treat(changesOf(text), { placed: [], rules: [], ...layers }, FIRST).spans.flatMap(
      ({ treatment }) => treatment?.reason ?? [],
    );

  it.each([
    ['Dm7 | G7 | C', { placed: [placed('altered', 1, 2, 2)] }, ['Altered on beats 3 and 4, placed by hand.']],
    ['G7 | C', { placed: [placed('altered', 0, 0, 4)] }, ['Altered for the whole bar, placed by hand.']],
    ['G7 | % | C', { placed: [placed('flat-nine', 0, 0, 8)] }, ['Flat nine for 2 bars, placed by hand.']],
    [
      'G7 | % | C',
      { placed: [placed('altered', 0, 2, 3)] },
      ['Altered from beat 3 for 3 beats, placed by hand.'],
    ],
    ['6/8 G7 | C', { placed: [placed('altered', 0, 1.5, 1.5)] }, ['Altered on beat 2, placed by hand.']],
    ['G7 | C', { placed: [placed('altered', 0, 1, 3, { when: { type: 'every', nth: 2 } })] }, []],
    [
      'G7 | C',
      { placed: [placed('altered', 0, 1, 3, { when: { type: 'chance', chance: 1 } })] },
      ['Altered on beats 2 to 4, placed by hand, by chance.'],
    ],
    [
      'G7 | C',
      { rules: [rule('altered', 'falling-fifth')] },
      ['Altered for the whole bar, by rule: G7 falls a fifth to C.'],
    ],
    [
      'G7 | C',
      { placed: [placed('suspended-first', 0, 0, 4)] },
      [
        'Suspended on beats 1 and 2, placed by hand.',
        'Third after the suspension on beats 3 and 4, placed by hand.',
      ],
    ],
  ])('%s', (text, layers, expected) => {
    expect(reasons(text, layers)).toEqual(expected);
  });
});

describe('a stretch of changes', () => {
  it('begins at its own beat 1 and knows what was cut off', () => {
    const slice = sliceChanges(changesOf('Dm7 | G7 | C'), beats(2), beats(9));
    expect(drawChanges(slice)).toBe('Dm7 2, G7 4, C 1');
    expect(
      slice.bars.map(({ start, length, written, skipped }) => [start, length, written, skipped]),
    ).toEqual([
      [0, beats(2), 0, beats(2)],
      [beats(2), beats(4), 1, 0],
      [beats(6), beats(1), 2, 0],
    ]);
    expect(slice.spans.map(({ bar }) => bar)).toEqual([0, 1, 2]);
  });

  it('takes what is placed on a bar it cuts into at the right beat', () => {
    const slice = sliceChanges(changesOf('G7 | C'), beats(1), beats(8));
    const hands = [placed('altered', 0, 2, 1)];
    expect(drawChanges(treat(slice, { placed: hands, rules: [] }, FIRST))).toBe('G7 1, G7alt! 1, G7 1, C 4');
  });

  it('outside the changes is a mistake that quotes them', () => {
    const changes = changesOf('C');
    expect(() => sliceChanges(changes, beats(0), beats(5))).toThrow(RangeError);
    expect(() => sliceChanges(changes, beats(2), beats(2))).toThrow(/40320/);
  });
});
