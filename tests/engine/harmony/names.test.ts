import { Interval, Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import spelled from '../../../shared/reference/altered-spelling.json' with { type: 'json' };
import {
  commonName,
  degreeSemitones,
  intervalBetween,
  pitchClass,
  plainName,
  prettyDegree,
  prettyName,
  prettyText,
  spell,
  transposeName,
  type Degree,
} from '../../../src/engine/harmony/index.ts';

const SIGNS = ['', 'b', 'bb', '#', '##'] as const;
const NUMBERS = [1, 2, 3, 4, 5, 6, 7, 9, 11, 13] as const;
const DEGREES = SIGNS.flatMap((sign) => NUMBERS.map((number): Degree => `${sign}${number}`));
const NAMES = [...'CDEFGAB'].flatMap((letter) => SIGNS.map((sign) => letter + sign));
const ROOTS = NAMES.filter((name) => name.length < 3);

/** A degree in tonal's words: a perfect, major or minor interval, augmented or diminished. */
function tonalInterval(degree: Degree): string {
  const number = degree.replace(/[b#]/g, '');
  const alter = degree.split('#').length - degree.split('b').length;
  const isPerfect = ['1', '4', '5', '11'].includes(number);
  const quality = isPerfect
    ? ['dd', 'd', 'P', 'A', 'AA'][alter + 2]!
    : ['d', 'm', 'M', 'A', 'AA'][alter + 2]!;
  return number + quality;
}

describe('a degree over a root', () => {
  it('is spelled as tonal spells it, on every root', () => {
    for (const root of ROOTS) {
      for (const degree of DEGREES) {
        expect(spell(root, degree), `${degree} over ${root}`).toBe(
          Note.transpose(root, tonalInterval(degree)),
        );
      }
    }
  });

  it('lies as many semitones up as tonal counts', () => {
    for (const degree of DEGREES) {
      expect(degreeSemitones(degree), degree).toBe(Interval.semitones(tonalInterval(degree)));
    }
  });

  it('has the letter its number says', () => {
    for (const root of ROOTS) {
      for (const degree of DEGREES) {
        const steps = Number(degree.replace(/[b#]/g, '')) - 1;
        const letters = 'CDEFGAB';
        expect(spell(root, degree)[0]).toBe(letters[(letters.indexOf(root[0]!) + steps) % 7]);
      }
    }
  });

  it('spells the altered scale as the table does, on all twenty-one roots and in all three ways', () => {
    expect(spelled.rows).toHaveLength(21);
    for (const row of spelled.rows) {
      for (const way of ['functional', 'tension', 'modal'] as const) {
        const degrees = spelled.formulas[way].split(' ') as Degree[];
        expect(
          degrees.map((degree) => spell(row.root, degree)),
          `${row.root} ${way}`,
        ).toEqual(row[way]);
      }
    }
  });
});

describe('a note name', () => {
  it('has the pitch class tonal gives it', () => {
    for (const name of NAMES) expect(pitchClass(name), name).toBe(Note.chroma(name));
  });

  it('is plain without double accidentals, and a natural note under its own name', () => {
    for (const name of NAMES) {
      expect(plainName(name)).toMatch(/^[A-G][b#]?$/);
      expect(pitchClass(plainName(name))).toBe(pitchClass(name));
    }
    const plain = ['Ebb', 'Fb', 'E#', 'Cb', 'B#', 'F##', 'Db', 'C#', 'Gb', 'A#'].map(plainName);
    expect(plain).toEqual(['D', 'E', 'F', 'B', 'C', 'G', 'Db', 'C#', 'Gb', 'A#']);
    expect([plainName('Bbbb'), plainName('E##'), plainName('Abbbb')]).toEqual(['Ab', 'F#', 'F']);
  });

  it('is shown with real accidental signs', () => {
    expect(['Bb', 'F#', 'Ebb', 'F##', 'A', 'Dbbb'].map(prettyName)).toEqual([
      'B♭',
      'F♯',
      'E𝄫',
      'F𝄪',
      'A',
      'D𝄫♭',
    ]);
    expect((['b9', '#11', 'bb7', '5'] as const).map(prettyDegree)).toEqual(['♭9', '♯11', '𝄫7', '5']);
  });

  it('is found in a label, and no other b is', () => {
    expect(prettyText('Db melodic minor')).toBe('D♭ melodic minor');
    expect(prettyText('Bb bebop dominant, the b9 and #11 of Ebb')).toBe(
      'B♭ bebop dominant, the ♭9 and ♯11 of E𝄫',
    );
    expect(prettyText('Bbmaj7 and Ebm7b5, above Abdim7')).toBe('B♭maj7 and E♭m7♭5, above A♭dim7');
    expect(prettyText("the chord's b9")).toBe('the chord’s ♭9');
    expect(prettyText('mixolydian b6 by bar 4b')).toBe('mixolydian ♭6 by bar 4b');
    expect(['subV7/bVI', 'bii7', '#iv°7', 'V7/bIII', 'a bit of bVII7'].map(prettyText)).toEqual([
      'subV7/♭VI',
      '♭ii7',
      '♯iv°7',
      'V7/♭III',
      'a bit of ♭VII7',
    ]);
  });

  it('of each pitch class has one that is common', () => {
    expect(Array.from({ length: 12 }, (_, pc) => pitchClass(commonName(pc)))).toEqual([...Array(12).keys()]);
    expect(commonName(-2)).toBe('Bb');
  });

  it.each(['', 'H', 'c', 'C♭', 'Cb#', 'Cx', 'C4', 'valueOf', '__proto__'])('is not %j', (name) => {
    expect(() => pitchClass(name)).toThrow(
      new RangeError(`a note name is a letter A to G with sharps or flats, not "${name}"`),
    );
  });

  it('moves by an interval there and back', () => {
    for (const from of ROOTS) {
      for (const to of ROOTS) {
        const up = intervalBetween(from, to);
        expect(transposeName(from, up)).toBe(to);
        expect(transposeName(to, { letters: -up.letters, semitones: -up.semitones })).toBe(from);
        expect(Math.abs(up.semitones - (up.letters * 12) / 7)).toBeLessThan(3.5);
      }
    }
  });
});
