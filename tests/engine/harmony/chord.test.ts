import { describe, expect, it } from 'vitest';
import {
  chordBass,
  guideTones,
  intervalBetween,
  intervalOf,
  isDominant,
  isNoChord,
  printChord,
  resolution,
  roleOf,
  transposeChord,
  type ChordFamily,
  type Degree,
} from '../../../src/engine/harmony/index.ts';
import { read } from '../../helpers/symbols.ts';

describe('a chord behaves as its family', () => {
  const FAMILIES: Readonly<Record<ChordFamily, string>> = {
    major: 'C Cmaj7 C6 C69 Cadd9 Cmaj7#11 C(b5)',
    minor: 'Cm Cm7 Cm6 Cm(maj7) Cm11 Cm#5 Cm7sus4',
    dominant: 'C7 C9 C13 C7#5 C7b5 C7alt C7b9b13 C7#11 C7no5',
    'half-diminished': 'Cm7b5 Cø Cm9b5',
    diminished: 'Cdim C°7 C°(maj7) Cm6b5',
    augmented: 'C+ Cmaj7#5',
    suspended: 'Csus4 Csus2 C7sus4 C9sus C11 C13sus C7susb9 Cmaj7sus4',
    power: 'C5 C7no3 Cadd9(no3)',
  };
  it.each(Object.entries(FAMILIES))('%s', (family, symbols) => {
    for (const symbol of symbols.split(' ')) expect(read(symbol).family, symbol).toBe(family);
  });
});

it('dominants have a major third and a minor seventh, or are suspended with one', () => {
  for (const symbol of 'C7 C9 C13 C7alt C7#5 C7b5 C7sus4 C9sus C11 C7no5 C7sus4(add3)'.split(' ')) {
    expect(isDominant(read(symbol)), symbol).toBe(true);
  }
  for (const symbol of 'C C6 Cmaj7 Cm7 Cm7b5 C°7 Csus4 Cmaj7sus4 C5 C+ C7no3 Cm7sus4'.split(' ')) {
    expect(isDominant(read(symbol)), symbol).toBe(false);
  }
});

it.each([
  ['C7', '3 b7'],
  ['C7alt', '3 b7'],
  ['C13', '3 b7'],
  ['Cmaj9', '3 7'],
  ['Cm7', 'b3 b7'],
  ['Cm(maj7)', 'b3 7'],
  ['Cø', 'b3 b7'],
  ['C°7', 'b3 bb7'],
  ['C°7(maj7)', 'b3 bb7'],
  ['C7sus4', '4 b7'],
  ['C11', '4 b7'],
  ['C7sus2', '2 b7'],
  ['Csus4', '4 5'],
  ['C6', '3 6'],
  ['Cm69', 'b3 6'],
  ['C', '3 5'],
  ['C+', '3 #5'],
  ['Cdim', 'b3 b5'],
  ['C5', '5'],
  ['Cno5', '3'],
])('the guide tones of %s are %s', (symbol, degrees) => {
  expect(guideTones(read(symbol)).join(' ')).toBe(degrees);
});

it.each<[symbol: string, roles: string]>([
  [
    'C7alt',
    '1 root, 3 guide, b7 guide, b5 fifth, #5 fifth, b9 tension, #9 tension, 9 avoid, 5 avoid, 11 avoid',
  ],
  [
    'C7',
    '1 root, 5 fifth, 9 tension, 13 tension, b9 tension, b13 tension, #11 tension, #9 tension, 11 avoid, 7 avoid',
  ],
  ['Cmaj7', '11 avoid, #11 tension, 9 tension, 13 tension, b13 avoid, b9 avoid'],
  ['Cm7', '11 tension, 13 tension, 9 tension, b13 avoid, b9 avoid'],
  ['C7#5', 'b13 fifth, #5 fifth, 13 avoid'],
  ['Cm6', '6 guide, 13 guide, b7 avoid'],
  ['Cø', 'b5 fifth, b9 avoid, b13 tension, 11 tension'],
  ['C7sus4', '4 guide, 11 guide, b9 tension, 3 tension'],
])('over %s: %s', (symbol, roles) => {
  const chord = read(symbol);
  const listed = roles.split(', ').map((entry) => entry.split(' ')[0] as Degree);
  expect(listed.map((degree) => `${degree} ${roleOf(chord, degree)}`).join(', ')).toBe(roles);
});

it('the bass is the note behind the slash, else the root', () => {
  expect([chordBass(read('C7/Bb')), chordBass(read('C7'))]).toEqual(['Bb', 'C']);
});

it.each([
  ['G7', 'Cmaj7', 'falling-fifth'],
  ['G7alt', 'Cm6', 'falling-fifth'],
  ['G7sus4', 'C', 'falling-fifth'],
  ['C#7', 'Gb', 'falling-fifth'],
  ['Db7', 'Cmaj7', 'falling-semitone'],
  ['C7', 'B', 'falling-semitone'],
  ['G7', 'Am7', 'other'],
  ['G7sus4', 'G7', 'other'],
  ['Dm7', 'G7', null],
  ['Cmaj7', 'F', null],
  ['G7', null, null],
])('%s to %s is %s', (from, to, way) => {
  expect(resolution(read(from), to === null ? null : read(to))).toBe(way);
});

describe('a chord is printed in one style', () => {
  it.each([
    ['BbΔ7', 'Bbmaj7', 'B♭maj7', 'B♭△7'],
    ['E-7b5', 'Em7b5', 'Em7♭5', 'Eø7'],
    ['Co7', 'Cdim7', 'Cdim7', 'C°7'],
    ['C+', 'Caug', 'Caug', 'C+'],
    ['C+7', 'C7#5', 'C7♯5', 'C7♯5'],
    ['C7 #9 #5', 'C7(#5,#9)', 'C7(♯5,♯9)', 'C7(♯5,♯9)'],
    ['Calt', 'C7alt', 'C7alt', 'C7alt'],
    ['CmM7', 'Cm(maj7)', 'Cm(maj7)', 'C−(△7)'],
    ['C11', 'C9sus4', 'C9sus4', 'C9sus4'],
    ['C6/9', 'C69', 'C69', 'C69'],
    ['C7sus(b9)', 'C7sus4b9', 'C7sus4♭9', 'C7sus4♭9'],
    ['F♯-7/B', 'F#m7/B', 'F♯m7/B', 'F♯−7/B'],
    ['C(add9)', 'Cadd9', 'Cadd9', 'Cadd9'],
    ['Cmajor', 'C', 'C', 'C'],
    ['C13(#11)', 'C13#11', 'C13♯11', 'C13♯11'],
    ['C𝄫9', 'Cbbdom9', 'C𝄫9', 'C𝄫9'],
    ['C𝄫6', 'Cbbmaj6', 'C𝄫6', 'C𝄫6'],
    ['C𝄫5', 'Cbb(no3)', 'C𝄫5', 'C𝄫5'],
  ])('%s as %s, %s and %s', (typed, ascii, letters, signs) => {
    const chord = read(typed);
    expect([printChord(chord), printChord(chord, 'letters'), printChord(chord, 'signs')]).toEqual([
      ascii,
      letters,
      signs,
    ]);
  });
});

describe('a chord is moved to another key', () => {
  it.each([
    ['Dm7', 'C', 'Eb', 'Fm7'],
    ['C7(#9,b13)/Bb', 'C', 'D', 'D7(#9,b13)/C'],
    ['B♭△7', 'C', 'A', 'G△7'],
    [' (F♯-7b5) ', 'E', 'F', ' (G-7b5) '],
    ['Ab7/Gb', 'C', 'Db', 'A7/G'],
    ['Cø7', 'C', 'Gb', 'Gbø7'],
    ['C6/9', 'C', 'F#', 'F#6/9'],
  ])('%s from %s to %s is %s, its suffix as it was typed', (symbol, from, to, moved) => {
    const chord = transposeChord(read(symbol), intervalBetween(from, to));
    expect(chord.text).toBe(moved);
    expect(chord).toEqual(read(moved));
  });

  it('by so many semitones, to the common name of its root', () => {
    const moved = [1, 3, 6, -2, 12, -13].map(
      (semitones) => transposeChord(read('C7'), intervalOf('C', semitones)).text,
    );
    expect(moved).toEqual(['Db7', 'Eb7', 'F#7', 'Bb7', 'C7', 'B7']);
  });
});

it.each(['N.C.', 'NC', 'n.c.', 'N. C.', ' N.C. ', 'no chord'])(
  '%j tells the band to play no chord',
  (text) => {
    expect(isNoChord(text)).toBe(true);
  },
);

it('a chord is no sign to rest', () => {
  expect(['C', 'Cm', 'N', ''].map(isNoChord)).toEqual([false, false, false, false]);
});
