import { prettyText } from '../../src/engine/index.ts';
import { describe, expect, it } from 'vitest';
import { render } from 'vitest-browser-svelte';
import ChordSymbol from '../../src/ui/chord/ChordSymbol.svelte';
import '../../src/ui/style/fonts.css';
import '../../src/ui/style/tokens.css';
import { fitSymbol, noteWithSign, symbolParts } from '../../src/ui/chord/symbol.ts';

const parts = (text: string) => Object.values(symbolParts(text)).join(' ').replaceAll(/ +/g, ' ').trim();

describe('a chord symbol is set', () => {
  it.each([
    ['C7alt', 'C 7alt'],
    ['Dm7', 'D m 7'],
    ['Bbmaj7', 'B ♭ maj 7'],
    ['F#m7b5', 'F ♯ m 7♭5'],
    ['G7(#9,b13)', 'G 7(♯9,♭13)'],
    ['Cmaj7/E', 'C maj 7 E'],
    ['Ab7/Gb', 'A ♭ 7 G♭'],
    ['B♭△7', 'B ♭ △ 7'],
    ['N.C.', 'N.C.'],
  ])('%s as root, quality, figures and bass', (text, pieces) => {
    expect(parts(text)).toBe(pieces);
  });

  it('narrower where it has little room, and smaller only when it is narrowest', () => {
    expect(fitSymbol('G7', 200, 40)).toEqual({ size: 40, stretch: 100 });
    const tight = fitSymbol('G7(#9,b13)', 130, 40);
    expect(tight.size).toBe(40);
    expect(tight.stretch).toBeLessThan(100);
    const tighter = fitSymbol('G7(#9,b13)', 60, 40);
    expect(tighter).toMatchObject({ stretch: 75 });
    expect(tighter.size).toBeLessThan(40);
  });

  it.each(['Ebmaj7', 'F#m7b5', 'G7(#9,b13)', 'Abm7/Gb', 'C7alt', 'Bbm(maj7)', 'Gm7', 'Cmaj13#11', 'W'])(
    '%s within its room, in the faces as shipped',
    async (text) => {
      await Promise.all(['680 40px Chords', '680 40px Signs'].map((face) => document.fonts.load(face, 'A♭')));
      for (const room of [140, 90, 60]) {
        const { container } = await render(ChordSymbol, { text, size: 40, room });
        const { width } = container.querySelector('.symbol')!.getBoundingClientRect();
        expect(width, `${room} px`).toBeLessThanOrEqual(room);
        expect(width, `${room} px`).toBeGreaterThan(0);
      }
    },
  );
});

describe('words with notes in them', () => {
  it('carry real signs', () => {
    expect(prettyText('Db melodic minor')).toBe('D♭ melodic minor');
    expect(prettyText('Bb7 becomes Bb7alt')).toBe('B♭7 becomes B♭7alt');
    expect(prettyText('tell b9, #9, b5 and #5')).toBe('tell ♭9, ♯9, ♭5 and ♯5');
  });

  it('keep letters that are no accidentals', () => {
    expect(prettyText('Bebop, A Bb blues, Bb')).toBe('Bebop, A B♭ blues, B♭');
    expect(noteWithSign('Ebb')).toBe('E𝄫');
  });
});
