import { Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import reference from '../../../shared/reference/tuning-frets.json' with { type: 'json' };
import {
  GUITAR,
  notesOnNeck,
  printTuning,
  readTuning,
  tonesOf,
  TUNINGS,
} from '../../../src/engine/neck/index.ts';
import { fretPlace, frequency } from '../../../src/engine/units/index.ts';
import { chord } from '../../helpers/voicing.ts';

const openOf = (id: string) => TUNINGS.find((tuning) => tuning.id === id)!.open;

describe('frets', () => {
  it.each(reference.frets)('number $fret lies where the table says', ({ fret, of_scale, mm_650, mm_648 }) => {
    expect(fretPlace(fret)).toBeCloseTo(of_scale, 8);
    expect(650 * fretPlace(fret)).toBeCloseTo(mm_650, 3);
    expect(648 * fretPlace(fret)).toBeCloseTo(mm_648, 3);
  });
});

describe('tunings', () => {
  it('are standard as the reference has it', () => {
    for (const [id, strings] of [
      ['guitar', reference.guitar],
      ['bass', reference.bass],
    ] as const) {
      expect(openOf(id), id).toEqual(strings.map(({ midi }) => midi));
      expect(printTuning(openOf(id)), id).toBe(strings.map(({ name }) => name).join(' '));
      for (const { midi, hz } of strings) expect(frequency(midi)).toBeCloseTo(hz, 5);
    }
  });

  it('have four to eight strings, and names of their own', () => {
    for (const { open } of TUNINGS) {
      expect(open.length).toBeGreaterThanOrEqual(4);
      expect(open.length).toBeLessThanOrEqual(8);
    }
    expect(new Set(TUNINGS.map(({ id }) => id)).size).toBe(TUNINGS.length);
    expect(new Set(TUNINGS.map(({ open }) => open.join(' '))).size).toBe(TUNINGS.length);
  });

  it('are read as written, with octaves or without', () => {
    const read = (text: string) => {
      const result = readTuning(text);
      return result.ok ? printTuning(result.value) : result.error;
    };
    expect(read('E2 A2 D3 G3 B3 E4')).toBe('E2 A2 D3 G3 B3 E4');
    expect(read('e a d g b e')).toBe('E2 A2 D3 G3 B3 E4');
    expect(read('D, A, D, G, A, D')).toBe('D2 A2 D3 G3 A3 D4');
    expect(read('C G C G C E')).toBe('C2 G2 C3 G3 C4 E4');
    expect(read('E♭ A♭ D♭ G♭ B♭ E♭')).toBe('Eb2 Ab2 Db3 F#3 Bb3 Eb4');
    expect(read('B1 E A D F# B')).toBe('B1 E2 A2 D3 F#3 B3');
    expect(read('G4 C4 E4 A4')).toBe('G4 C4 E4 A4');
    for (const { open } of TUNINGS) {
      const printed = readTuning(printTuning(open));
      expect(printed.ok && printed.value).toEqual(open);
    }
  });

  it.each([
    ['E A D H', { from: 6, to: 7, message: 'H is no open string.' }],
    ['E A D G0', { from: 6, to: 8, message: 'G0 lies too low for an open string.' }],
    ['E A D G9', { from: 6, to: 8, message: 'G9 lies too high for an open string.' }],
    ['', { from: 0, to: 0, message: 'A neck has 4 to 8 strings, not 0.' }],
    ['E A D', { from: 0, to: 5, message: 'A neck has 4 to 8 strings, not 3.' }],
    ['E A D G B E A D G', { from: 0, to: 17, message: 'A neck has 4 to 8 strings, not 9.' }],
  ])('that cannot be are said: "%s"', (text, problem) => {
    const result = readTuning(text);
    expect(!result.ok && result.error).toMatchObject(problem);
    expect(!result.ok && result.error.remedy).not.toBe('');
  });
});

describe('the notes of a chord on a neck', () => {
  const neck = { ...GUITAR, lastFret: 12 };

  it('are its tones wherever they are, each with its part', () => {
    const notes = notesOnNeck(tonesOf(chord('G7alt')), neck);
    expect(
      notes.filter(({ string }) => string === 6).map(({ fret, name, role }) => [fret, name, role]),
    ).toEqual([
      [1, 'F', 'guide'],
      [3, 'G', 'root'],
      [4, 'Ab', 'tension'],
      [6, 'A#', 'tension'],
      [7, 'B', 'guide'],
      [9, 'Db', 'fifth'],
      [11, 'D#', 'fifth'],
    ]);
    for (const { name, pitch } of notes) expect(Note.chroma(name)).toBe(pitch % 12);
  });

  it('begin at the capo', () => {
    const notes = notesOnNeck(tonesOf(chord('C')), { ...neck, capo: 3 });
    expect(Math.min(...notes.map(({ fret }) => fret))).toBe(3);
    expect(notes.find(({ string, fret }) => string === 6 && fret === 3)).toMatchObject({
      name: 'G',
      pitch: 43,
    });
  });
});
