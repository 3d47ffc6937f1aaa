import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CHORD_STYLES,
  chordPitchClasses,
  degreeSemitones,
  guideTones,
  homeKey,
  intervalBetween,
  isDominant,
  makeChord,
  pitchClass,
  plainName,
  printChord,
  readChord,
  readKeys,
  resolution,
  spell,
  transposeChord,
  transposeName,
  type Chord,
} from '../../src/engine/harmony/index.ts';
import { suggestScales } from '../../src/engine/scales/index.ts';
import { changesOf } from '../helpers/changes.ts';
import { read, spellings } from '../helpers/symbols.ts';

const ROOTS = [...'CDEFGAB'].flatMap((letter) => ['', 'b', '#'].map((sign) => letter + sign));

/** A number a suffix is built round, then what may follow it, in any order and number. */
const STEMS =
  'm,maj7,7,9,11,13,m7,m9,m11,m13,maj9,maj13,6,69,m6,dim,°7,ø,+,+7,5,sus4,sus2,7sus4,9sus,m(maj7),'.split(
    ',',
  );
const EXTRAS = 'b5,#5,b9,#9,#11,b13,9,11,13,b6,6,add9,no3,no5,sus,alt'.split(',');

const suffixes = fc
  .tuple(fc.constantFrom(...STEMS), fc.uniqueArray(fc.constantFrom(...EXTRAS), { maxLength: 4 }))
  .map(([stem, extras]) => (extras.length === 0 ? stem : `${stem}(${extras.join(',')})`));

const symbols = fc
  .tuple(fc.constantFrom(...ROOTS), suffixes, fc.option(fc.constantFrom(...ROOTS)))
  .map(([root, suffix, bass]) => root + suffix + (bass === null ? '' : `/${bass}`));

/** Chords of every kind a symbol can ask for. */
const chords = symbols
  .map((symbol) => readChord(symbol))
  .filter((result) => result.ok)
  .map(({ value }) => value);

/** A chord of the cases, on any root. */
const usualChords = fc
  .tuple(
    fc.constantFrom(...ROOTS),
    fc.constantFrom(...spellings.filter(({ symbol }) => /^C(?![b#♭♯])/.test(symbol))),
  )
  .map(([root, { symbol }]) => transposeChord(read(symbol), intervalBetween('C', root)));

const sounding = ({ root, bass, degrees }: Chord): unknown => ({ root, bass, degrees });
const pcs = (chord: Chord): readonly number[] => chordPitchClasses(chord);

describe('reading a symbol', () => {
  it('never throws, and a refusal points into the text', () => {
    const anything = fc.oneof(
      fc.string({ unit: 'grapheme' }),
      fc.string({ unit: fc.constantFrom(...'CGbmMaj79#()/,+-Δø°𝄫 sudilto135'), maxLength: 40 }),
    );
    fc.assert(
      fc.property(anything, (text) => {
        const result = readChord(text);
        if (result.ok) return;
        const { from, to, remedy } = result.error;
        expect(from).toBeGreaterThanOrEqual(0);
        expect(to).toBeGreaterThanOrEqual(from);
        expect(to).toBeLessThanOrEqual(text.length);
        if (remedy !== null)
          expect(readChord(remedy.slice('did you mean '.length, -1)).ok, remedy).toBe(true);
      }),
      { numRuns: 3000 },
    );
  });

  it('gives a chord whose tones all differ, from the root up, its own guide tones among them', () => {
    fc.assert(
      fc.property(chords, (chord) => {
        expect(new Set(pcs(chord)).size).toBe(chord.degrees.length);
        expect(chord.degrees[0]).toBe('1');
        for (const degree of guideTones(chord)) expect(chord.degrees).toContain(degree);
        if (isDominant(chord)) expect(chord.degrees).toContain('b7');
      }),
      { numRuns: 2000 },
    );
  });

  it('does not mind the order of alterations', () => {
    const shuffled = fc
      .tuple(
        fc.constantFrom('7', 'm7', 'maj7', '13'),
        fc.shuffledSubarray(['b5', '#9', 'b9', '#11', 'b13', '13']),
      )
      .map(([stem, extras]) => [stem, extras] as const);
    fc.assert(
      fc.property(shuffled, ([stem, extras]) => {
        const readings = [extras, extras.toSorted(), extras.toReversed()].map((order) =>
          readChord(`C${stem}(${order})`),
        );
        const heard = readings.map((result) => (result.ok ? result.value.degrees.join() : 'refused'));
        expect(new Set(heard).size).toBe(extras.length === 0 ? new Set(heard).size : 1);
      }),
    );
  });

  it('gives the same pitch classes on roots that sound alike', () => {
    const alike = [
      ['C#', 'Db'],
      ['F#', 'Gb'],
      ['G#', 'Ab'],
      ['D#', 'Eb'],
      ['A#', 'Bb'],
      ['B', 'Cb'],
      ['E#', 'F'],
    ] as const;
    fc.assert(
      fc.property(fc.constantFrom(...alike), suffixes, ([one, other], suffix) => {
        const [first, second] = [readChord(`${one}(${suffix})`), readChord(`${other}(${suffix})`)];
        const [plain, same] = [readChord(one + suffix), readChord(other + suffix)];
        expect(first.ok).toBe(second.ok);
        expect(plain.ok).toBe(same.ok);
        if (plain.ok && same.ok) expect(pcs(plain.value)).toEqual(pcs(same.value));
      }),
    );
  });
});

describe('printing a chord', () => {
  it.each(CHORD_STYLES)('in %s reads back to the same chord', (style) => {
    fc.assert(
      fc.property(fc.oneof(chords, usualChords), (chord) => {
        const printed = printChord(chord, style);
        const back = read(printed);
        expect(sounding(back)).toEqual(sounding(chord));
        expect([back.family, back.altered]).toEqual([chord.family, chord.altered]);
        expect(printChord(back, style)).toBe(printed);
      }),
      { numRuns: 2000 },
    );
  });

  it('works for every set of degrees a symbol can ask for, made without one', () => {
    fc.assert(
      fc.property(chords, ({ root, degrees, bass }) => {
        expect(sounding(makeChord(root, degrees, bass))).toEqual({ root, degrees, bass });
      }),
      { numRuns: 1000 },
    );
  });
});

describe('moving to another key', () => {
  const moves = fc
    .tuple(fc.constantFrom(...ROOTS), fc.constantFrom(...ROOTS))
    .map(([from, to]) => intervalBetween(from, to));

  it('changes the notes by just so much, whatever the spelling', () => {
    fc.assert(
      fc.property(chords, moves, (chord, by) => {
        const moved = transposeChord(chord, by);
        expect(pcs(moved)).toEqual(pcs(chord).map((pc) => (((pc + by.semitones) % 12) + 12) % 12));
        expect(moved.degrees).toEqual(chord.degrees);
        expect(sounding(read(moved.text))).toEqual(sounding(moved));
      }),
    );
  });

  it('there and back is where it was, as long as no name had to be made plain', () => {
    fc.assert(
      fc.property(chords, moves, (chord, by) => {
        const back = { letters: -by.letters, semitones: -by.semitones };
        fc.pre([chord.root, chord.bass ?? 'C'].every((name) => transposeName(name, by).length < 3));
        expect(sounding(transposeChord(transposeChord(chord, by), back))).toEqual(sounding(chord));
      }),
    );
  });

  it('commutes with reading, printing, resolving and choosing scales', () => {
    fc.assert(
      fc.property(usualChords, usualChords, fc.constantFrom(...ROOTS), (chord, next, to) => {
        const by = intervalBetween('C', to);
        const [moved, movedNext] = [transposeChord(chord, by), transposeChord(next, by)];
        expect(sounding(read(printChord(moved)))).toEqual(
          sounding(transposeChord(read(printChord(chord)), by)),
        );
        expect(resolution(moved, movedNext)).toBe(resolution(chord, next));
        const shapes = (one: Chord, after: Chord): unknown =>
          suggestScales(one, { treatment: null, next: after }).map(({ id, notes }) => [
            id,
            notes.map(({ degree, role }) => `${degree} ${role}`),
          ]);
        expect(shapes(moved, movedNext)).toEqual(shapes(chord, next));
      }),
    );
  });

  it('moves the keys a chart is heard in, and nothing else', () => {
    const bars = fc.array(
      fc.constantFrom(
        'Dm7',
        'G7',
        'Cmaj7',
        'A7',
        'Fm7',
        'Bb7',
        'Em7b5',
        'Db7',
        'Am7',
        'D7',
        'Ebmaj7',
        'F#dim7',
      ),
      {
        minLength: 2,
        maxLength: 12,
      },
    );
    fc.assert(
      fc.property(bars, fc.constantFrom(...ROOTS), (symbols, to) => {
        const by = intervalBetween('C', to);
        const chart = changesOf(symbols.join(' | '));
        const moved = changesOf(symbols.map((symbol) => transposeChord(read(symbol), by).text).join(' | '));
        const home = homeKey(chart);
        const movedHome = { tonic: plainName(transposeName(home.tonic, by)), mode: home.mode };
        const [plain, other] = [readKeys(chart, home), readKeys(moved, movedHome)];
        expect(other.map((reading) => reading?.label)).toEqual(plain.map((reading) => reading?.label));
        expect(other.map((reading) => reading && pitchClass(reading.key.tonic))).toEqual(
          plain.map((reading) => reading && pitchClass(transposeName(reading.key.tonic, by))),
        );
      }),
      { numRuns: 60 },
    );
  });
});

describe('spelling', () => {
  it('gives a degree the letter of its number, and a plain name no double accidental', () => {
    fc.assert(
      fc.property(chords, ({ root, degrees }) => {
        for (const degree of degrees) {
          const name = spell(root, degree);
          const steps = Number(degree.replace(/[b#]/g, '')) - 1;
          expect(name[0]).toBe('CDEFGAB'[('CDEFGAB'.indexOf(root[0]!) + steps) % 7]);
          expect(pitchClass(name)).toBe((pitchClass(root) + degreeSemitones(degree)) % 12);
          expect(plainName(name)).toMatch(/^[A-G][b#]?$/);
        }
      }),
    );
  });
});
