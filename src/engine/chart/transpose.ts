import {
  intervalBetween,
  pitchClass,
  readChord,
  transposeChord,
  transposeName,
  type Chord,
  type Interval,
  type NoteName,
} from '../harmony/index.ts';
import { LIMITS, STRAY } from './data.ts';
import { rawBars } from './items.ts';
import type { Chart } from './types.ts';

/**
 * How transposed roots are spelled: `auto` by whatever interval reads best over the whole chart, `flats`
 * or `sharps` for each root by itself, or as from one key to another.
 */
export type TransposeSpelling =
  'auto' | 'flats' | 'sharps' | { readonly from: NoteName; readonly to: NoteName };

const FLATS: readonly NoteName[] = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const SHARPS: readonly NoteName[] = ['C', 'C#', 'D', 'D#', 'E', 'F', 'F#', 'G', 'G#', 'A', 'A#', 'B'];

/** Semitones of the natural intervals, by the letters they climb. Common practice. */
const NATURAL = [0, 2, 4, 5, 7, 9, 11, 12];

/**
 * The text with every chord moved. Only roots and basses are spelled anew; suffixes, bar lines, words
 * and whatever could not be read stay as typed.
 * @param semitones whole number, up or down; octaves make no difference
 * @throws RangeError when `semitones` is not a whole number
 */
export function transposeChartText(
  chart: Chart,
  semitones: number,
  spelling: TransposeSpelling = 'auto',
): string {
  if (!Number.isInteger(semitones))
    throw new RangeError(`semitones must be a whole number, not ${semitones}`);
  const up = ((semitones % 12) + 12) % 12;
  const { text } = chart;
  const symbols: { from: number; to: number; chord: Chord }[] = [];
  const known = new Map<string, Chord | null>();
  let last = null;
  for (const raw of rawBars(chart)) {
    if (raw === last) continue;
    last = raw;
    for (const { kind, from, to } of raw.items) {
      if (kind !== 'word') continue;
      const typed = text.slice(from, to);
      if (!known.has(typed)) known.set(typed, chordOf(typed));
      const chord = known.get(typed);
      if (chord) symbols.push({ from, to, chord });
    }
  }
  const move = mover(
    symbols.map(({ chord }) => chord),
    up,
    spelling,
  );
  let out = '';
  let at = 0;
  for (const { from, to, chord } of symbols) {
    out += text.slice(at, from) + move(chord);
    at = to;
  }
  return out + text.slice(at);
}

function chordOf(symbol: string): Chord | null {
  if (STRAY.has(symbol) || symbol.length > LIMITS.symbol) return null;
  const read = readChord(symbol);
  return read.ok ? read.value : null;
}

function mover(chords: readonly Chord[], up: number, spelling: TransposeSpelling): (chord: Chord) => string {
  if (spelling === 'flats' || spelling === 'sharps') {
    const names = spelling === 'flats' ? FLATS : SHARPS;
    return (chord) => {
      const target = names[(pitchClass(chord.root) + up) % 12]!;
      return target === chord.root
        ? chord.text
        : transposeChord(chord, intervalBetween(chord.root, target)).text;
    };
  }
  if (spelling === 'auto' && up === 0) return ({ text }) => text;
  const interval =
    spelling === 'auto'
      ? plainestInterval(
          chords.map(({ root }) => root),
          up,
        )
      : intervalBetween(spelling.from, spelling.to);
  return (chord) => transposeChord(chord, interval).text;
}

/**
 * Of all intervals of `semitones` the one that gives a chart's roots the plainest names; flats on a tie.
 * @param semitones 0 to 11
 */
export function plainestInterval(roots: readonly NoteName[], semitones: number): Interval {
  const intervals = NATURAL.flatMap((natural, letters) =>
    Math.abs(natural - semitones) <= 2 ? [{ letters, semitones }] : [],
  );
  const costs = intervals.map((interval) =>
    roots.reduce((sum, root) => sum + awkwardness(transposeName(root, interval)), 0),
  );
  return intervals[costs.lastIndexOf(Math.min(...costs))]!;
}

/** How hard a root is to read: our choice, a single accidental a little, E# and its like more, a double one most. */
function awkwardness(name: NoteName): number {
  if (name.length > 2) return 8;
  if (['E#', 'B#', 'Fb', 'Cb'].includes(name)) return 3;
  return name.length - 1;
}
