import { describe, expect, it } from 'vitest';
import { carryBars, readChart } from '../../../src/engine/chart/index.ts';
import {
  carryTreatments,
  DELETED_BAR,
  staleTreatments,
  touch,
  touchSentence,
  treat,
  type Touch,
  type TreatmentKind,
} from '../../../src/engine/treatment/index.ts';
import { beats } from '../../../src/engine/units/index.ts';
import { changesOf } from '../../helpers/changes.ts';
import { drawChanges, placed } from '../../helpers/treated.ts';

const tap = (at: number, length: number, kind: TreatmentKind = 'altered'): Touch => ({
  at: beats(at),
  length: beats(length),
  kind,
});

describe('a live touch', () => {
  it.each([
    ['alters the beat', 'Dm7 | G7 | C', tap(5, 1), 'Dm7 4, G7 1, G7alt* 1, G7 2, C 4'],
    ['reaches ahead into a dominant', 'Dm7 | G7 | C', tap(3, 2), 'Dm7 4, G7alt* 1, G7 3, C 4'],
    ['ends with the dominant', 'G7 | C', tap(2, 4), 'G7 2, G7alt* 2, C 4'],
    ['alters each dominant it meets', 'G7 C7 | F', tap(0, 8), 'G7alt* 2, C7alt* 2, F 4'],
    ['leaves all else alone', 'Dm7 | C', tap(0, 8), 'Dm7 4, C 4'],
    ['moves the bass', 'G7 | C', tap(0, 4, 'tritone-substitute'), 'Db7* 4, C 4'],
    ['suspends and resolves', 'G7 | C', tap(0, 2, 'suspended-first'), 'G7sus* 1, G7* 1, G7 2, C 4'],
    ['off the end of the round stops there', 'C | G7', tap(6, 8), 'C 4, G7 2, G7alt* 2'],
  ])('%s', (_, text, tapped, expected) => {
    expect(drawChanges(touch(changesOf(text), tapped))).toBe(expected);
  });

  it('wins over what is placed, and starts from the chord as written', () => {
    const changes = treat(
      changesOf('G7 | C'),
      { placed: [placed('tritone-substitute', 0, 0, 4)], rules: [] },
      { round: 0, seed: 1 },
    );
    expect(drawChanges(touch(changes, tap(1, 1)))).toBe('Db7! 1, G7alt* 1, Db7! 2, C 4');
    expect(drawChanges(touch(changes, tap(0, 4, 'plain')))).toBe('G7* 4, C 4');
  });

  it('that meets nothing gives back the very same changes', () => {
    const changes = changesOf('Dm7 | C');
    expect(touch(changes, tap(0, 4))).toBe(changes);
  });

  it('says why it is there', () => {
    const { spans } = touch(changesOf('G7'), tap(2, 2));
    expect(spans.map(({ treatment }) => treatment?.reason)).toEqual([
      undefined,
      'Altered on beats 3 and 4, played live.',
    ]);
  });

  it.each([
    ['G7 | C', tap(2, 2), 'G7 becomes G7alt on beats 3 and 4.'],
    ['Dm7 G7 | C', tap(1, 2), 'G7 becomes G7alt on beat 3.'],
    ['Dm7 | C', tap(1, 2), null],
    ['N.C.', tap(0, 1), null],
    ['C | G7', tap(1, 2), null],
    ['G7', tap(0, 4, 'suspended-first'), 'G7 is suspended, then takes its third, for the whole bar.'],
    ['G7alt', tap(0, 4), 'G7alt stays alt for the whole bar.'],
    ['', tap(0, 1), null],
  ])('over %s says what it would do', (text, tapped, expected) => {
    expect(touchSentence(changesOf(text), tapped)).toBe(expected);
  });

  it('over a chord that is written altered and played plain says that it turns', () => {
    const plain = treat(
      changesOf('G7alt | C'),
      { placed: [placed('plain', 0, 0, 4)], rules: [] },
      { round: 0, seed: 1 },
    );
    expect(touchSentence(plain, tap(2, 2))).toBe('G7 becomes G7alt on beats 3 and 4.');
  });
});

describe('a placed treatment whose bar has changed', () => {
  const stale = (text: string, ...hands: ReturnType<typeof placed>[]) =>
    staleTreatments(changesOf(text), hands).map(({ reason }) => reason);

  it.each([
    ['C | F', placed('altered', 1, 0, 4), ['Bar 2 holds F now, no dominant.']],
    ['C F | G7', placed('altered', 0, 0, 4), ['Bar 1 holds C and F now, no dominant.']],
    ['N.C.', placed('altered', 0, 0, 4), ['Bar 1 holds no chord now, no dominant.']],
    ['C', placed('altered', 4, 0, 4), ['Bar 5 is not played.']],
    ['C', placed('altered', DELETED_BAR, 0, 4), ['Its bar has been deleted.']],
    ['C | G7', placed('altered', 0, 2, 4), []],
    ['G7 C', placed('altered', 0, 2, 2), ['Bar 1 holds C now, no dominant.']],
    ['G7', placed('altered', 0, 0, 1), []],
  ])('in %s', (text, hand, expected) => {
    expect(stale(text, hand)).toEqual(expected);
  });

  it('follows its bar through an edit and is never lost', () => {
    const carry = carryBars(readChart('C | G7 | F | A7'), readChart('Bb | C | G7 | A7'));
    const hands = [
      placed('altered', 1, 0, 4),
      placed('altered', 2, 0, 4),
      placed('altered', 3, 0, 4),
      placed('altered', DELETED_BAR, 0, 4),
    ];
    const carried = carryTreatments(hands, carry);
    expect(carried.map(({ bar }) => bar)).toEqual([2, DELETED_BAR, 3, DELETED_BAR]);
    expect(carried[2]).toBe(hands[2]);
    expect(carried.map(({ id }) => id)).toEqual(hands.map(({ id }) => id));
  });
});
