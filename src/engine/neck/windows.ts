import { AWKWARD, widest, widestOnString } from './hand.ts';

/** The notes of a scale under a hand, somewhere on a neck without ends: for each string its frets. */
export interface Shape {
  readonly low: number;
  readonly high: number;
  /** From the lowest-sounding string up, each in ascending order. */
  readonly frets: readonly (readonly number[])[];
  /** For each string its frets as a set of bits, counted from `low`. */
  readonly bits: readonly number[];
  /** 0 for what falls under the fingers; more, the more awkward. */
  readonly awkward: number;
}

/** True where a semitone above the lowest open string belongs to the scale. */
export type InScale = (semitone: number) => boolean;

/**
 * Every way to lay a scale under a hand whose lowest fret is `low`: each pitch just once, from the first
 * the hand reaches on the lowest string to the last it reaches on the highest. The least awkward first.
 * @param open semitones of the open strings above the lowest one, ascending
 */
export function shapesAt(low: number, open: readonly number[], inScale: InScale): readonly Shape[] {
  const high = low + widest(open) - 1;
  const stretch = widestOnString(open) - 1;
  const shapes: Shape[] = [];
  const next = (pitch: number): number => {
    let semitone = pitch;
    while (!inScale(semitone)) semitone++;
    return semitone;
  };
  const lay = (string: number, from: number, frets: readonly (readonly number[])[]): void => {
    if (string === open.length) {
      const shape = finished(frets, from - open[string - 1]!);
      if (shape?.low === low) shapes.push(shape);
      return;
    }
    const own: number[] = [];
    let pitch = from;
    if (string > 0 && string < open.length - 1) lay(string + 1, pitch, [...frets, []]);
    if (pitch - open[string]! < low) return;
    for (let fret = pitch - open[string]!; fret <= high; fret = pitch - open[string]!) {
      if (own.length > 0 && fret - own[0]! > stretch) break;
      own.push(fret);
      pitch = next(pitch + 1);
      lay(string + 1, pitch, [...frets, [...own]]);
    }
  };
  lay(0, next(low), []);
  return shapes.sort((a, b) => a.awkward - b.awkward);
}

/** A shape that takes all the highest string has under the hand; else null. */
function finished(frets: readonly (readonly number[])[], following: number): Shape | null {
  const all = frets.flat();
  const [low, high] = [Math.min(...all), Math.max(...all)];
  if (following <= high) return null;
  const width = Math.max(0, high - low - 3);
  return {
    low,
    high,
    frets,
    bits: frets.map((own) => own.reduce((set, fret) => set | (1 << (fret - low)), 0)),
    awkward:
      priceOf(AWKWARD.width, width, AWKWARD.wider) +
      AWKWARD.stretch * stretches(all, indexAt(all)) +
      frets.reduce((sum, { length }) => sum + priceOf(AWKWARD.notes, length, AWKWARD.more), 0),
  };
}

const priceOf = (prices: readonly number[], count: number, each: number): number =>
  prices[count] ?? prices[prices.length - 1]! + each * (count - prices.length + 1);

/** How many notes lie off the four frets from `index` on. */
const stretches = (frets: readonly number[], index: number): number =>
  frets.filter((fret) => fret < index || fret > index + 3).length;

/** The fret the index finger rests at, so that the fingers stretch least; the lowest of those. */
export function indexAt(frets: readonly number[]): number {
  const [low, high] = [Math.min(...frets), Math.max(...frets)];
  let best = low;
  for (let index = low + 1; index <= Math.max(low, high - 3); index++)
    if (stretches(frets, index) < stretches(frets, best)) best = index;
  return best;
}
