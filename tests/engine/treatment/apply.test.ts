import { describe, expect, it } from 'vitest';
import {
  chordPitchClasses,
  degreeSemitones,
  isDominant,
  pitchClass,
  readChord,
  type Chord,
} from '../../../src/engine/harmony/index.ts';
import { applyTreatment, TREATMENT_KINDS, TREATMENTS } from '../../../src/engine/treatment/index.ts';

function chord(symbol: string): Chord {
  const read = readChord(symbol);
  if (!read.ok) throw new Error(`${symbol}: ${read.error.message}`);
  return read.value;
}

const ROOTS = ['C', 'Db', 'C#', 'D', 'Eb', 'D#', 'E', 'F', 'F#', 'Gb', 'G', 'Ab', 'G#', 'A', 'Bb', 'B', 'Cb'];

describe('a dominant in another colour', () => {
  it.each([
    ['G7', 'altered', 'G7alt'],
    ['G13', 'altered', 'G7alt'],
    ['G7sus', 'altered', 'G7alt'],
    ['G7alt', 'altered', 'G7alt'],
    ['Galt', 'altered', 'Galt'],
    ['G7', 'flat-nine', 'G7b9'],
    ['G9', 'flat-nine-flat-thirteen', 'G7b9b13'],
    ['G7', 'sharp-eleven', 'G7#11'],
    ['G7', 'whole-tone', 'G9#5'],
    ['G7b9', 'suspended-first', 'G7sus'],
    ['G7alt', 'plain', 'G7'],
    ['G7(#9, b13)/B', 'plain', 'G7/B'],
    ['G13', 'plain', 'G13'],
  ] as const)('%s, %s: %s', (symbol, kind, expected) => {
    expect(applyTreatment(chord(symbol), kind)?.text).toBe(expected);
  });

  it.each([
    ['G7/B', 'altered', 'G7alt/B'],
    ['G7/F', 'altered', 'G7alt/F'],
    ['G7/D', 'altered', 'G7alt'],
    ['G7/A', 'altered', 'G7alt'],
    ['G7/C', 'altered', 'G7alt/C'],
    ['G7/D', 'flat-nine', 'G7b9/D'],
    ['G7/A', 'flat-nine', 'G7b9'],
    ['G7/B', 'suspended-first', 'G7sus'],
    ['G7/B', 'tritone-substitute', 'Db7'],
  ] as const)('the bass of %s, %s: %s', (symbol, kind, expected) => {
    expect(applyTreatment(chord(symbol), kind)?.text).toBe(expected);
  });

  it('is nothing a major or minor chord can take', () => {
    for (const symbol of ['Cmaj7', 'Dm7', 'C', 'Bm7b5', 'C6', 'Co7', 'C5'])
      for (const kind of TREATMENT_KINDS) expect(applyTreatment(chord(symbol), kind)).toBeNull();
  });

  it('is a dominant again, spelled without double accidentals', () => {
    for (const root of ROOTS)
      for (const kind of TREATMENT_KINDS) {
        const treated = applyTreatment(chord(`${root}7`), kind)!;
        expect(isDominant(treated)).toBe(true);
        expect(treated.root.length).toBeLessThanOrEqual(2);
      }
  });
});

describe('the table of treatments', () => {
  it('holds no chord tone that its own scale does not hold', () => {
    for (const root of ROOTS)
      for (const kind of TREATMENT_KINDS) {
        const scale = TREATMENTS[kind].degrees.map(
          (degree) => (pitchClass(root) + degreeSemitones(degree)) % 12,
        );
        const tones = chordPitchClasses(applyTreatment(chord(`${root}7`), kind)!);
        expect(
          tones.filter((tone) => !scale.includes(tone)),
          `${root}7 ${kind}`,
        ).toEqual([]);
      }
  });

  it('replaces no degree that its own scale holds', () => {
    for (const kind of TREATMENT_KINDS) {
      const scale = TREATMENTS[kind].degrees.map((degree) => degreeSemitones(degree) % 12);
      expect(
        TREATMENTS[kind].replaces.filter((degree) => scale.includes(degreeSemitones(degree) % 12)),
      ).toEqual([]);
    }
  });

  it('puts the tritone substitute a tritone away with the same guide tones', () => {
    for (const root of ROOTS) {
      const written = chord(`${root}7`);
      const substitute = applyTreatment(written, 'tritone-substitute')!;
      const guides = ({ root: from }: Chord) => [4, 10].map((step) => (pitchClass(from) + step) % 12).sort();
      expect((pitchClass(substitute.root) - pitchClass(root) + 12) % 12).toBe(6);
      expect(guides(substitute)).toEqual(guides(written));
    }
  });

  it('cannot be changed', () => {
    expect(Object.isFrozen(TREATMENTS)).toBe(true);
    for (const kind of TREATMENT_KINDS) expect(Object.isFrozen(TREATMENTS[kind])).toBe(true);
  });
});
