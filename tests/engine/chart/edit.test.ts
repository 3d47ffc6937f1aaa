import { describe, expect, it } from 'vitest';
import {
  carryBars,
  insertBar,
  mergeSlots,
  readChart,
  removeBar,
  replaceSlot,
  splitSlot,
  transposeChartText,
  writeBar,
} from '../../../src/engine/chart/index.ts';

const at = (text: string) => readChart(text);

describe('replacing a chord', () => {
  it.each([
    ['|  Dm7   G7|C ||', 0, 1, 'Db7', '|  Dm7   Db7|C ||'],
    ['| C / / G7 |', 0, 1, 'F7', '| C / / F7 |'],
    ['| C | / / G7 / |', 1, 0, 'Am7', '| C | Am7 / G7 / |'],
    ['| C | //// |', 1, 0, 'Am7', '| C | Am7 /// |'],
    ['| C (A7) |', 0, 1, 'Eb7', '| C (Eb7) |'],
    ['| Dm7 G7 | % | C |', 1, 1, 'Db7', '| Dm7 G7 | Dm7 Db7 | C |'],
    ['| Dm7 | G7 | %% |', 3, 0, 'Db7', '| Dm7 | G7 | Dm7 | Db7 |'],
    ['| C | | F |', 1, 0, 'Am7', '| C | Am7 | F |'],
    ['| C | H7 |', 1, 0, 'B7', '| C | B7 |'],
    ['| C G7 |', 0, 1, ' ', '| C |'],
    ['| C / / G7 |', 0, 1, '', '| C |'],
    ['| C |', 0, 0, '', '| N.C. |'],
  ])('%s bar %i slot %i', (text, bar, slot, symbol, expected) => {
    expect(replaceSlot(at(text), bar, slot, symbol)).toBe(expected);
  });

  it('of a bar or slot that is not there is a mistake that says so', () => {
    expect(() => replaceSlot(at('C'), 3, 0, 'F')).toThrow(/1 bars.*index 3/);
    expect(() => replaceSlot(at('C'), 0, 2, 'F')).toThrow(/1 slots.*index 2/);
  });
});

describe('splitting and merging', () => {
  it.each([
    ['| C |', 0, 0, 'F', '| C F |'],
    ['| Dm7 G7 |', 0, 0, '', '| Dm7 Dm7 G7 / |'],
    ['3/4 C |', 0, 0, 'F', '3/4 C / F |'],
    ['| C F G7 Am7 |', 0, 1, 'D7', '| C F G7 Am7 |'],
    ['[A] |: Dm7 "fill" :|', 0, 0, 'G7', '[A] |: Dm7 G7 "fill" :|'],
  ])('%s split at bar %i slot %i', (text, bar, slot, symbol, expected) => {
    expect(splitSlot(at(text), bar, slot, symbol)).toBe(expected);
  });

  it.each([
    ['| C F |', 0, '| C |'],
    ['| C F G7 Am7 |', 1, '| C F / Am7 |'],
    ['| C F |', 1, '| C F |'],
  ])('%s merged at slot %i', (text, slot, expected) => {
    expect(mergeSlots(at(text), 0, slot)).toBe(expected);
  });

  it('writing a bar keeps what stands around its chords', () => {
    const text = '|1. 3/4 Segno "top" Dm7 "fill" G7 D.C. :|';
    expect(writeBar(at(text), 0, 'Am7 D7 G7')).toBe('|1. 3/4 Segno "top" Am7 D7 G7 "fill" D.C. :|');
  });
});

describe('inserting a bar', () => {
  it.each([
    ['| C | F |', 1, 'G7', '| C | G7 | F |'],
    ['| C | F |', 2, 'G7', '| C | F | G7 |'],
    ['[A] |: C | F :|', 0, 'G7', '[A] |: G7 | C | F :|'],
    ['|: C :| F', 1, 'G7', '|: C | G7 :| F'],
    ['C\nF', 1, 'G7', 'C | G7\nF'],
    ['| C | % | F |', 1, 'G7', '| C | G7 | C | F |'],
    ['| C | F | %% |', 2, 'G7', '| C | F | G7 | C | F |'],
    ['| C | / / F / |', 1, 'G7', '| C | G7 | C F |'],
    ['| C "fill" | F |', 1, undefined, '| C "fill" | % | F |'],
    ['', 0, 'G7', 'G7'],
  ])('%s at %i', (text, bar, content, expected) => {
    expect(insertBar(at(text), bar, content)).toBe(expected);
  });
});

describe('removing a bar', () => {
  it.each([
    ['| C | F | G7 |', 1, '| C | G7 |'],
    ['[A] C | F | G7 |', 0, '[A] F | G7 |'],
    ['|: C | F :|', 0, '|: F :|'],
    ['|: C | F :|', 1, '|: C :|'],
    ['| C |: F :| G7 |', 1, '| C | G7 |'],
    ['| C | F | %% |', 1, '| C | C | F |'],
    ['| C | % | F |', 0, '| C | F |'],
    ['| C | F Fine | G7 |', 1, '| C Fine | G7 |'],
    ['| C |\n| F |\n| G7 |', 1, '| C |\n| G7 |'],
    ['| C |', 0, ''],
    ['| | C |', 1, '| |'],
  ])('%s bar %i', (text, bar, expected) => {
    expect(removeBar(at(text), bar)).toBe(expected);
  });
});

describe('transposing', () => {
  it.each([
    ['Dm7 | G7 | Cmaj7', 1, 'auto', 'Ebm7 | Ab7 | Dbmaj7'],
    ['Dm7 | G7 | Cmaj7', 2, 'auto', 'Em7 | A7 | Dmaj7'],
    ['Dm7 | G7 | Cmaj7', -1, 'auto', 'C#m7 | F#7 | Bmaj7'],
    ['Dm7 | G7 | Cmaj7', 6, 'sharps', 'G#m7 | C#7 | F#maj7'],
    ['Dm7 | G7 | Cmaj7', 6, 'flats', 'Abm7 | Db7 | Gbmaj7'],
    ['  C7(#9, b13)/Bb  /  (F♯m7♭5) ', 3, 'auto', '  Eb7(#9, b13)/Db  /  (Am7♭5) '],
    ['H7 "C and D" [A] | Fine C', 2, 'auto', 'H7 "C and D" [A] | Fine D'],
    ['C | Db7', 0, 'sharps', 'C | C#7'],
    ['C | Db7', 12, 'auto', 'C | Db7'],
  ] as const)('%s by %i, %s', (text, semitones, spelling, expected) => {
    expect(transposeChartText(at(text), semitones, spelling)).toBe(expected);
  });

  it('to a key spells as that key does', () => {
    expect(transposeChartText(at('Dm7 G7 C'), 6, { from: 'C', to: 'F#' })).toBe('G#m7 C#7 F#');
    expect(transposeChartText(at('Dm7 G7 C'), 6, { from: 'C', to: 'Gb' })).toBe('Abm7 Db7 Gb');
  });

  it('by part of a semitone is a mistake', () => {
    expect(() => transposeChartText(at('C'), 0.5)).toThrow(/0\.5/);
  });
});

describe('where bars went', () => {
  const went = (before: string, after: string) => {
    const carry = carryBars(at(before), at(after));
    return at(before).bars.map(({ index }) => carry(index));
  };

  it.each([
    ['nothing changed', 'C | F | G7', 'C | F | G7', [0, 1, 2]],
    ['a bar came', 'C | F | G7', 'C | Am7 | F | G7', [0, 2, 3]],
    ['a bar went', 'C | F | G7', 'C | G7', [0, null, 1]],
    ['a chord changed', 'C | F | G7', 'C | Fm | G7', [0, 1, 2]],
    ['a chord changed under simile marks', 'C | % | % | G7', 'F | % | % | G7', [0, 1, 2, 3]],
    ['two edits at once', 'C | F | G7 | Am7 | D7', 'F | G7 | Bb | D7 | Eb', [null, 0, 1, 2, 3]],
    ['everything went', 'C | F', '', [null, null]],
    ['everything came', '', 'C | F', []],
  ])('when %s', (_, before, after, expected) => {
    expect(went(before, after)).toEqual(expected);
  });

  it('is said of a bar that never was', () => {
    expect(carryBars(at('C'), at('C'))(7)).toBeNull();
  });
});
