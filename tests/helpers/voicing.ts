import fc from 'fast-check';
import { degreeSemitones, readChord, type Chord } from '../../src/engine/harmony/index.ts';
import { type Voicing, type VoicingStyle } from '../../src/engine/voicing/index.ts';

export const STYLE_NAMES: readonly VoicingStyle[] = ['rootless', 'drop-2', 'drop-3', 'shell', 'fourths'];

export const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'] as const;

/** Kinds of chord with two guide tones apart from root and fifth, as lead sheets write them. */
export const SEVENTHS = [
  ...['maj7', 'maj9', 'maj13', 'maj7#11', 'maj9#11', 'maj7#5', '6', '69'],
  ...['m7', 'm9', 'm11', 'm13', 'm6', 'm69', 'm(maj7)', 'm7b5', 'm9b5', 'm11b5', 'dim7'],
  ...['7', '9', '13', '7b9', '7#9', '7b5', '7#5', '7#11', '7b13', '13b9', '13#9', '13#11', '9#11', '9#5'],
  ...['7b9b13', '7#9b13', '7b9#11', '7b9#9', '7b5b9', '7#5#9', '13b9#11', '7b9#9b13', '7alt'],
  ...['7sus4', '9sus4', '13sus4', '7susb9', 'maj7sus4'],
] as const;

/** Kinds with fewer tones. */
export const TRIADS = ['', 'm', 'dim', '+', 'sus4', 'sus2', 'add9', 'm(add9)', '5', '(b5)'] as const;

/** A chord symbol, read; one that cannot be read is the test's own mistake. */
export function chord(symbol: string): Chord {
  const read = readChord(symbol);
  if (!read.ok) throw new RangeError(`${symbol}: ${read.error.message}`);
  return read.value;
}

/** "53 57 60 64". */
export const keysOf = ({ pitches }: Voicing): string => pitches.join(' ');
/** "b3 5 b7 9", from the lowest voice up. */
export const degreesOf = ({ degrees }: Voicing): string => degrees.join(' ');

export const semitone = (degree: Parameters<typeof degreeSemitones>[0]): number =>
  degreeSemitones(degree) % 12;

export const anyStyle = fc.constantFrom(...STYLE_NAMES);
export const anyRoot = fc.constantFrom(...ROOTS);
export const anySymbol = fc
  .tuple(anyRoot, fc.constantFrom(...SEVENTHS, ...TRIADS))
  .map(([root, kind]) => root + kind);
export const anySeventh = fc.tuple(anyRoot, fc.constantFrom(...SEVENTHS)).map(([root, kind]) => root + kind);
