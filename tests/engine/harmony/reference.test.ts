import { chordParserFactory } from 'chord-symbol/lib/chord-symbol-esm.js';
import { describe, expect, it } from 'vitest';
import leadSheets from '../../../shared/reference/lead-sheet-chords.json' with { type: 'json' };
import kinds from '../../../shared/reference/musicxml-kinds.json' with { type: 'json' };
import suite from '../../../shared/reference/musicxml-suite-chords.json' with { type: 'json' };
import leading from '../../../shared/reference/voice-leading.json' with { type: 'json' };
import {
  CHORD_STYLES,
  chordPitchClasses,
  degreeSemitones,
  makeChord,
  printChord,
  readHarmony,
  writeHarmony,
  type Degree,
} from '../../../src/engine/harmony/index.ts';
import { harmonyOf, standardPcs, type Row } from '../../helpers/harmonies.ts';
import { read as chord, spellings } from '../../helpers/symbols.ts';

const sorted = (pcs: readonly number[]): readonly number[] => [...pcs].sort((a, b) => a - b);
const pcsOf = (symbol: string): readonly number[] => sorted(chordPitchClasses(chord(symbol)));

/** The symbols lead sheets write the standard's kinds with. */
const SYMBOL_OF_KIND = {
  major: 'C',
  minor: 'Cm',
  augmented: 'C+',
  diminished: 'Cdim',
  dominant: 'C7',
  'major-seventh': 'Cmaj7',
  'minor-seventh': 'Cm7',
  'diminished-seventh': 'C°7',
  'augmented-seventh': 'C7#5',
  'half-diminished': 'Cø7',
  'major-minor': 'Cm(maj7)',
  'major-sixth': 'C6',
  'minor-sixth': 'Cm6',
  'dominant-ninth': 'C9',
  'major-ninth': 'Cmaj9',
  'minor-ninth': 'Cm9',
  'dominant-11th': 'C9(11)',
  'major-11th': 'Cmaj11',
  'minor-11th': 'Cm11',
  'dominant-13th': 'C13(11)',
  'major-13th': 'Cmaj13(11)',
  'minor-13th': 'Cm13(11)',
  'suspended-second': 'Csus2',
  'suspended-fourth': 'Csus4',
  power: 'C5',
} as const satisfies Record<keyof typeof kinds.kinds, string>;

describe('the kinds of MusicXML', () => {
  it.each(Object.entries(kinds.kinds))('%s sounds the notes the standard says', (kind, pcs) => {
    expect(pcsOf(SYMBOL_OF_KIND[kind as keyof typeof SYMBOL_OF_KIND])).toEqual(pcs);
    const read = readHarmony({ root: 'C', kind, degrees: [], bass: null });
    if (!read.ok) throw new Error(read.error);
    expect(sorted(chordPitchClasses(read.value))).toEqual(pcs);
  });

  it('differ from what a symbol of the same number asks for in four places, as in practice', () => {
    const pcs = kinds.kinds;
    expect(pcsOf('C11')).toEqual(pcs['dominant-11th'].filter((pc) => pc !== 4));
    expect(pcsOf('C13')).toEqual(pcs['dominant-13th'].filter((pc) => pc !== 5));
    expect(pcsOf('Cmaj13')).toEqual(pcs['major-13th'].filter((pc) => pc !== 5));
    expect(pcsOf('Cm13')).toEqual(pcs['minor-13th'].filter((pc) => pc !== 5));
  });

  it.each(kinds.withoutPitchClasses)('%s is refused, since the standard does not give its notes', (kind) => {
    expect(readHarmony({ root: 'C', kind, degrees: [], bass: null }).ok).toBe(false);
  });
});

const INVALID = ['', 'augmented-ninth', 'maj69', 'minor-major'];

describe.each([
  ['the chords of an open lead-sheet set', leadSheets.chords],
  ['the chords of a MusicXML test suite', suite.chords],
])('%s', (_, rows) => {
  const isRootless = ({ degrees }: Row): boolean => degrees.includes('subtract:1');
  const isKnown = ({ kind }: Row): boolean => kind in kinds.kinds;

  it('print as symbols that read back to the same notes, in every style', () => {
    const valid = rows.filter((row) => isKnown(row) && !isRootless(row));
    expect(valid.length).toBeGreaterThan(25);
    for (const row of valid) {
      const read = readHarmony(harmonyOf(row));
      if (!read.ok) throw new Error(`${JSON.stringify(row)}: ${read.error}`);
      for (const style of CHORD_STYLES) {
        const back = chord(printChord(read.value, style));
        expect([back.root, back.bass, sorted(chordPitchClasses(back))]).toEqual([
          row.root,
          row.bass,
          standardPcs(harmonyOf(row)),
        ]);
      }
    }
  });

  it('are refused where their kind is none of the standard’s, or their root is taken away', () => {
    const invalid = rows.filter((row) => !isKnown(row) || isRootless(row));
    expect(invalid.length).toBeGreaterThan(5);
    for (const row of invalid) expect(readHarmony(harmonyOf(row)).ok, JSON.stringify(row)).toBe(false);
  });
});

it('the invalid kinds of the lead-sheet set are the four its README does not mention', () => {
  const unknown = leadSheets.chords.map(({ kind }) => kind).filter((kind) => !(kind in kinds.kinds));
  expect([...new Set(unknown)].sort()).toEqual(INVALID);
});

describe('a chord written as a MusicXML harmony', () => {
  it.each(spellings.map(({ symbol }) => symbol))('%s comes back with the same notes', (symbol) => {
    const written = chord(symbol);
    const read = readHarmony(writeHarmony(written));
    if (!read.ok) throw new Error(read.error);
    expect(sorted(chordPitchClasses(read.value))).toEqual(sorted(chordPitchClasses(written)));
    expect([read.value.root, read.value.bass]).toEqual([written.root, written.bass]);
  });

  it.each([
    ['C7b9', 'dominant', 'add 9 -1'],
    ['C7#11', 'dominant', 'add 11 1'],
    ['Cadd9', 'major', 'add 9 0'],
    ['C7sus4', 'suspended-fourth', 'add 7 0'],
    ['C69', 'major-sixth', 'add 9 0'],
    ['C7#5#9', 'augmented-seventh', 'add 9 1'],
  ])('%s is a %s with %s', (symbol, kind, degree) => {
    const { degrees, ...written } = writeHarmony(chord(symbol));
    expect(written.kind).toBe(kind);
    expect(degrees.map(({ type, value, alter }) => `${type} ${value} ${alter}`)).toEqual([degree]);
  });
});

/**
 * Where this reader and the package chord-symbol differ, and why ours stands. On every other spelling both
 * can read they agree, pitch class for pitch class.
 */
const DISAGREEMENTS: Readonly<Record<string, string>> = {
  'a minus or a plus before a degree is its flat or sharp, common practice in print':
    'C7-9 C7(-9) C7+9 C7(+9) C13-9 C13(-9) C13+9 C7+11 C7(+11) C9+11 C13+11 C7-5-9 C7+5+9 C7+5-9 C7-13 C(+11) C(-9)',
  'a number in brackets or behind another adds that degree alone':
    'C7(13) C713 C7(11) C7sus4(13) C7sus13 C7sus(13) Cm7(11) Cm7(13) Cm7b5(11) Cø7(11) Cm7(b5,11) C°7(11) C(9) C(13) C(9,#11) Csus(9)',
  'a 9 beside a 6 makes no seventh chord': 'C6(9) C(6,9) C6(9,#11) Cm6(9) Cm(6,9)',
  'a 13 brings no 11, the same in minor as in major': 'Cm13 C-13 Cmin13 Cm9(13) Cm(maj13) CmM13',
  'an 11 over a major seventh leaves the third where the symbol asks for it': 'Cmaj11 CM11 Cmaj9(11)',
  'the ninth of a diminished chord stands on its diminished seventh': 'Cdim9 C°9',
  'a 4 over a minor third is an eleventh': 'Cm7(4)',
  'a raised seventh of a minor chord is the major one': 'Cm(+7)',
  'a power chord keeps what is added to it': 'C5(add9) C5add9 C5(9)',
};

describe('the package chord-symbol', () => {
  const parse = chordParserFactory();
  const SEMITONES: Record<string, number> = { 1: 0, 2: 2, 3: 4, 4: 5, 5: 7, 6: 9, 7: 11, 9: 2, 11: 5, 13: 9 };

  /** Its reading as pitch classes above the root; null where it reads nothing. */
  function theirs(symbol: string): readonly number[] | null {
    const read = parse(symbol);
    if ('error' in read) return null;
    const pcs = read.normalized.intervals.map((interval: string) => {
      const alter = interval.split('#').length - interval.split('b').length;
      return (SEMITONES[interval.replace(/[b#]/g, '')]! + alter + 12) % 12;
    });
    return sorted([...new Set<number>(pcs)]);
  }

  const ours = (symbol: string): readonly number[] =>
    sorted(chord(symbol).degrees.map((degree) => degreeSemitones(degree) % 12));

  const compared = spellings.map(({ symbol }) => ({
    symbol,
    ours: ours(symbol).join(),
    theirs: theirs(symbol)?.join() ?? null,
  }));

  it('agrees wherever it can read a symbol, but for the listed spellings', () => {
    const differing = compared.filter(({ ours, theirs }) => theirs !== null && ours !== theirs);
    const listed = Object.values(DISAGREEMENTS).flatMap((symbols) => symbols.split(' '));
    expect(differing.map(({ symbol }) => symbol).sort()).toEqual(listed.sort());
    expect(compared.filter(({ ours, theirs }) => ours === theirs).length).toBeGreaterThan(400);
  });
});

it('chords of the voice-leading table move by its totals, so their notes are the ones it means', () => {
  for (const { from, to, semitones } of leading.chords) {
    expect(smallestMotion(pcsOf(from), pcsOf(to)), `${from} to ${to}`).toBe(semitones);
  }
});

function smallestMotion(from: readonly number[], to: readonly number[]): number {
  const [first, ...rest] = from;
  if (first === undefined) return 0;
  const size = (other: number): number => Math.min((first - other + 12) % 12, (other - first + 12) % 12);
  return Math.min(...to.map((other, at) => size(other) + smallestMotion(rest, to.toSpliced(at, 1))));
}

it('a list of degrees no symbol asks for is a programmer’s mistake', () => {
  const make =
    (root: string, ...degrees: Degree[]) =>
    () =>
      makeChord(root, degrees);
  expect(make('C', '3', '5')).toThrow(RangeError);
  expect(make('C', '1', '3', '5', '9', 'b9')).toThrow(/1 3 5 9 b9/);
  expect(make('H', '1', '3', '5')).toThrow(/"H"/);
  expect(make('C', '1', '3', '5', 'b7', 'b13')().text).toBe('C7b6');
  expect(make('C', 'b7', '5', '3', '1')().text).toBe('C7');
});
