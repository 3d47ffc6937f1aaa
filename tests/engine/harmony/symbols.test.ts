import { describe, expect, it } from 'vitest';
import { readChord } from '../../../src/engine/harmony/index.ts';
import { refusals, spellings } from '../../helpers/symbols.ts';

/** What a symbol reads as, written as the cases are. */
function headingOf(symbol: string): string {
  const read = readChord(symbol);
  if (!read.ok) return `refused: ${read.error.message}`;
  const { root, bass, degrees } = read.value;
  return `${root}${bass === null ? '' : `/${bass}`}: ${degrees.join(' ')}`;
}

describe('a chord symbol is read as the notes it asks for', () => {
  it.each(spellings)('$symbol is $heading', ({ symbol, heading }) => {
    expect(headingOf(symbol)).toBe(heading);
  });

  it('in more than six hundred spellings, none listed twice', () => {
    expect(spellings.length).toBeGreaterThan(600);
    expect(new Set(spellings.map(({ symbol }) => symbol)).size).toBe(spellings.length);
  });
});

describe('what is no chord symbol is refused with its place and the nearest reading', () => {
  it.each(refusals)('$symbol at $place, near $near', ({ symbol, place, near }) => {
    const read = readChord(symbol);
    if (read.ok) throw new Error(`${symbol} is read as ${read.value.degrees.join(' ')}`);
    const { from, to, remedy } = read.error;
    expect({ place: `${from}-${to}`, remedy }).toEqual({ place, remedy: near && `did you mean ${near}?` });
  });

  it('in one kind of quotation marks', () => {
    const refused = ['G7x', 'Cdom', 'C7addb'].map((symbol) => readChord(symbol));
    const said = refused.map((read) => (read.ok ? '' : read.error.message));
    expect(said).toContain('“x” means nothing in a chord symbol');
    expect(said.join()).not.toMatch(/["']/);
  });

  it('in more than a hundred ways', () => {
    expect(refusals.length).toBeGreaterThan(100);
  });
});

describe('a symbol is read whatever it is', () => {
  it('says of a symbol without end that it is too long', () => {
    for (const text of ['C'.repeat(100_000), `C7${'(b9)'.repeat(25_000)}`, ' '.repeat(100_000)]) {
      expect(readChord(text)).toMatchObject({ ok: false, error: { from: 0, to: text.length, remedy: null } });
    }
  });

  it.each(['', ' ', '\t'])('says of nothing (%j) that there is nothing', (text) => {
    expect(readChord(text)).toMatchObject({ ok: false, error: { message: 'there is no chord symbol here' } });
  });

  it('keeps the symbol as it was typed', () => {
    expect(readChord(' C△7(♯11) ')).toMatchObject({ ok: true, value: { text: ' C△7(♯11) ' } });
  });
});
