import { Note } from 'tonal';
import { describe, expect, it } from 'vitest';
import {
  TRANSPOSING,
  transposeChord,
  transposedFor,
  transposeName,
  type TransposingId,
} from '../../../src/engine/harmony/index.ts';
import { scaleById, scaleList, transposeScale } from '../../../src/engine/scales/index.ts';
import { chord, ROOTS } from '../../helpers/voicing.ts';

describe('what a transposing instrument reads', () => {
  // Common practice, e.g. a trumpet's C sounds Bb, an alto saxophone's C sounds Eb.
  it.each([
    ['b-flat', 'Bb', 'C', 'G7alt', 'A7alt'],
    ['b-flat-low', 'Bb', 'C', 'Eb7/Bb', 'F7/C'],
    ['e-flat', 'Eb', 'C', 'G7alt', 'E7alt'],
    ['e-flat-low', 'Eb', 'C', 'Cm7', 'Am7'],
    ['f', 'F', 'C', 'Bbmaj7', 'Fmaj7'],
    ['octave-lower', 'C', 'C', 'F#m7b5', 'F#m7b5'],
    ['octave-higher', 'C', 'C', 'F#m7b5', 'F#m7b5'],
    ['concert', 'C', 'C', 'F#m7b5', 'F#m7b5'],
  ] as const)('%s: %s is written %s, and %s is written %s', (id, sounds, written, symbol, read) => {
    const by = transposedFor(id);
    expect(transposeName(sounds, by)).toBe(written);
    expect(transposeChord(chord(symbol), by).text).toBe(read);
  });

  it('lies where its keys say', () => {
    const above = (id: TransposingId) => transposedFor(id).semitones;
    expect([above('b-flat'), above('b-flat-low'), above('e-flat'), above('e-flat-low')]).toEqual([
      2, 14, 9, 21,
    ]);
    expect([above('f'), above('octave-lower'), above('octave-higher')]).toEqual([7, 12, -12]);
    for (const { written } of TRANSPOSING) {
      expect(Note.midi(`${transposeName('C', written)}4`)! % 12).toBe((60 + written.semitones) % 12);
    }
  });

  it('has its scales spelled anew, degree by degree, with every role kept', () => {
    for (const { id } of scaleList()) {
      for (const root of ROOTS) {
        const choice = scaleById(id, root)!;
        for (const { written } of TRANSPOSING) {
          const moved = transposeScale(choice, written);
          expect(moved.notes.map(({ degree, role }) => [degree, role])).toEqual(
            choice.notes.map(({ degree, role }) => [degree, role]),
          );
          moved.notes.forEach(({ name, plain, pc }, i) => {
            expect(Note.chroma(name)).toBe(pc);
            expect(Note.chroma(plain)).toBe(pc);
            expect(pc).toBe((choice.notes[i]!.pc + written.semitones + 24) % 12);
          });
        }
      }
    }
    expect(transposeScale(scaleById('altered', 'G')!, transposedFor('b-flat'))).toMatchObject({
      name: 'A altered',
      parent: { name: 'Bb melodic minor', degree: 7 },
    });
  });

  it('is not told for an instrument there is not', () => {
    expect(() => transposedFor('g' as TransposingId)).toThrow('"g"');
  });
});
