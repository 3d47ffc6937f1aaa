import { describe, expect, it } from 'vitest';
import tables from '../../../shared/reference/chord-scales.json' with { type: 'json' };
import { chordPitchClasses } from '../../../src/engine/harmony/index.ts';
import { scaleById, suggestScales } from '../../../src/engine/scales/index.ts';
import { read } from '../../helpers/symbols.ts';

const offered = (symbol: string): readonly string[] =>
  suggestScales(read(symbol), { treatment: null, next: null }).map(({ id }) => id);

const chords = [...new Set(tables.rows.map(({ chord }) => chord))];

describe('the chord-scale tables of the trade', () => {
  it.each(chords)('lead %s with the scale we lead it with', (symbol) => {
    const first = tables.rows.find(({ chord }) => chord === symbol)!;
    expect(offered(symbol)[0]).toBe(first.id);
  });

  /** A row we do not follow, because its scale lacks a tone the symbol asks for. */
  const contradicts = ({ chord: symbol, id }: (typeof tables.rows)[number]): boolean => {
    const chord = read(symbol);
    const tones = new Set(scaleById(id!, chord.root)!.notes.map(({ pc }) => pc));
    const needed = chordPitchClasses(chord).filter((_, index) => chord.degrees[index] !== '5');
    return needed.some((pc) => !tones.has(pc));
  };

  const rows = tables.rows.filter(({ id }) => id !== null);
  /** Sparse scales leave tones out by nature, and an alt chord is offered what is near it. */
  const followed = rows.filter((row) => !contradicts(row) || offered(row.chord).includes(row.id!));

  it.each(followed)('offer $scale over $chord, and so do we', ({ chord, id }) => {
    expect(offered(chord)).toContain(id);
  });

  it('offer seven scales that lack a tone of their chord, which we do not', () => {
    const left = rows
      .filter((row) => !followed.includes(row))
      .map(({ chord, scale }) => `${chord}: ${scale}`);
    expect(left).toEqual([
      'C7alt: melodic minor a fourth up',
      'C7#9#5: harmonic minor a fourth up',
      'C7#9#5: melodic minor a fourth up',
      'C7#9: harmonic minor a fourth up',
      'C7#9: melodic minor a fourth up',
      'C7b9: melodic minor a fourth up',
      'C7b9b5: harmonic minor a fourth up',
      'C7b9b5: melodic minor a fourth up',
    ]);
  });

  it('name one scale that has both sevenths over a major seventh, which we have no name for', () => {
    expect(
      tables.rows.filter(({ id }) => id === null).map(({ chord, scale }) => `${chord}: ${scale}`),
    ).toEqual(['CmMaj7: bebop major a minor third up']);
  });
});

describe('avoid notes', () => {
  const avoided = (mode: string, symbol: string): readonly string[] => {
    const chord = read(symbol);
    const notes = scaleById(mode, chord.root, chord)!.notes;
    return notes.filter(({ role }) => role === 'avoid').map(({ degree }) => degree);
  };

  it.each(tables.avoid)('of $mode over $chord are $degrees', ({ mode, chord, degrees }) => {
    expect(avoided(mode, chord)).toEqual(degrees);
  });

  it('differ between sources in one place, the 13 of a minor seventh chord, which we leave a tension', () => {
    const disputed = tables.avoid.filter((row) => 'disagreement' in row);
    expect(disputed.map(({ mode }) => mode)).toEqual(['dorian']);
    expect(scaleById('dorian', 'D', read('Dm7'))!.notes.find(({ degree }) => degree === '13')?.role).toBe(
      'tension',
    );
  });

  it('are none among the altered tensions of a dominant', () => {
    expect(avoided('half-whole-diminished', 'C7')).toEqual([]);
    expect(avoided('altered', 'C7alt')).toEqual([]);
    expect(avoided('phrygian-dominant', 'C7b9')).toEqual(['11']);
  });

  it('do not count what a scale has on the way', () => {
    const passing = (id: string, symbol: string): readonly string[] => {
      const chord = read(symbol);
      return scaleById(id, 'C', chord)!
        .notes.filter(({ role }) => role === 'scale')
        .map(({ degree }) => degree);
    };
    expect(passing('bebop-dominant', 'C7')).toEqual(['7']);
    expect(passing('bebop-major', 'C6')).toEqual(['#5']);
    expect(passing('bebop-minor', 'Cm7')).toEqual(['3']);
    expect(passing('blues', 'C9')).toEqual(['b3', 'b5']);
    expect(passing('blues', 'Cm7')).toEqual(['b5']);
    expect(passing('minor-pentatonic', 'Cm7')).toEqual([]);
  });
});
