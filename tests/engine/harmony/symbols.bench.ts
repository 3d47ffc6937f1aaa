import { chordParserFactory } from 'chord-symbol/lib/chord-symbol-esm.js';
import { Chord } from 'tonal';
import { bench, describe } from 'vitest';
import { printChord, readChord } from '../../../src/engine/harmony/index.ts';
import { read, spellings } from '../../helpers/symbols.ts';

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];

/** A thousand symbols, no two alike: every spelling of the cases, the roots in turn. Nobody reads one twice in a round. */
const SYMBOLS = spellings
  .map(({ symbol }) => symbol)
  .filter((symbol) => /^C(?![b#♭♯])/.test(symbol))
  .flatMap((symbol, index) => [0, 5].map((step) => ROOTS[(index + step) % 12]! + symbol.slice(1)))
  .slice(0, 1000);

/** Those all three can read, so that the same work is compared. */
const parse = chordParserFactory();
const COMMON = SYMBOLS.filter((symbol) => {
  const theirs = parse(symbol);
  return !('error' in theirs) && !Chord.get(symbol).empty;
});

const CHORDS = SYMBOLS.map(read);

describe(`${COMMON.length} distinct symbols all three read`, () => {
  bench('ours', () => {
    for (const symbol of COMMON) readChord(symbol);
  });
  bench('tonal', () => {
    for (const symbol of COMMON) Chord.get(symbol);
  });
  bench('chord-symbol', () => {
    for (const symbol of COMMON) parse(symbol);
  });
});

describe(`${SYMBOLS.length} distinct symbols`, () => {
  bench('read', () => {
    for (const symbol of SYMBOLS) readChord(symbol);
  });
  bench('read and printed', () => {
    for (const chord of CHORDS) readChord(printChord(chord));
  });
});
