import { beatLength, PPQ, type Metre } from '../units/index.ts';
import type { SheetValue } from './sheet-types.ts';

/** What one sign can last, the longest first, in quarter notes. */
const VALUES: readonly { readonly value: SheetValue; readonly dotted: boolean; readonly quarters: number }[] =
  [
    { value: 1, dotted: false, quarters: 4 },
    { value: 2, dotted: true, quarters: 3 },
    { value: 2, dotted: false, quarters: 2 },
    { value: 4, dotted: true, quarters: 1.5 },
    { value: 4, dotted: false, quarters: 1 },
    { value: 8, dotted: true, quarters: 0.75 },
    { value: 8, dotted: false, quarters: 0.5 },
    { value: 16, dotted: false, quarters: 0.25 },
  ];

/** Part of a note or rest that one sign can show. Ticks from the downbeat of its bar. */
export interface Piece {
  readonly at: number;
  readonly length: number;
  readonly value: SheetValue;
  readonly dotted: boolean;
  readonly triplet: number | null;
}

/** What the bar is like that a note is to be shown in. */
export interface BarShape {
  readonly metre: Metre;
  readonly length: number;
  /** The quarter beats, by number from the downbeat, that fall into three. */
  readonly triplets: ReadonlySet<number>;
}

/** The quarter beats that fall into three: those in which something begins or ends at a third. */
export function tripletBeats(edges: readonly number[]): ReadonlySet<number> {
  const third = PPQ / 3;
  return new Set(edges.filter((at) => at % third === 0 && at % PPQ !== 0).map((at) => Math.floor(at / PPQ)));
}

/**
 * A stretch of a bar as signs. The beat stays in sight: a sign crosses a beat, and in four the middle of the
 * bar, only where it begins on one or where the figure is a usual syncopation. Common practice.
 */
export function piecesOf(from: number, to: number, isRest: boolean, bar: BarShape): readonly Piece[] {
  const pieces: Piece[] = [];
  let at = from;
  while (at < to) {
    const piece = pieceAt(at, to, isRest, bar);
    pieces.push(piece);
    at += piece.length;
  }
  return pieces;
}

function pieceAt(at: number, to: number, isRest: boolean, bar: BarShape): Piece {
  const beat = Math.floor(at / PPQ);
  if (bar.triplets.has(beat)) {
    const left = Math.min(to, (beat + 1) * PPQ) - at;
    const thirds = (3 * left) / PPQ;
    if (thirds < 3) return { at, length: left, value: thirds === 2 ? 4 : 8, dotted: false, triplet: beat };
    return { at, length: PPQ, value: 4, dotted: false, triplet: null };
  }
  // What is not written in thirds ends where the next beat that is begins.
  const next = [...bar.triplets].find((triplet) => triplet > beat && triplet * PPQ < to);
  const end = next === undefined ? to : next * PPQ;
  for (const { value, dotted, quarters } of VALUES) {
    const length = quarters * PPQ;
    if (length <= end - at && fits(at / PPQ, quarters, dotted, isRest, bar)) {
      return { at, length, value, dotted, triplet: null };
    }
  }
  return { at, length: Math.min(end - at, PPQ / 4), value: 16, dotted: false, triplet: null };
}

/** Whether a sign of so many quarters reads well at a place, in quarters from the downbeat. */
function fits(at: number, quarters: number, dotted: boolean, isRest: boolean, bar: BarShape): boolean {
  const beat = beatLength(bar.metre) / PPQ;
  const [end, length] = [at + quarters, bar.length / PPQ];
  if (beat === 1.5) return fitsCompound(at, quarters, isRest);
  if (quarters === 4) return at === 0 && length === 4;
  const inFour = length === 4;
  const crossesMiddle = inFour && at < 2 && end > 2;
  if (isRest) return !dotted && at % quarters === 0;
  if (quarters === 3) return at % 1 === 0 && (!inFour || at <= 1);
  if (quarters === 2) return at % 1 === 0;
  if (at % 1 === 0) return !(crossesMiddle && quarters === 1.5);
  if (at % 1 === 0.5) return end % 0.5 === 0 && !crossesMiddle;
  return quarters < 1 && Math.floor(at) === Math.ceil(end) - 1;
}

/** In metres whose beat falls into three eighths, a sign keeps to its beat or lasts whole beats. */
function fitsCompound(at: number, quarters: number, isRest: boolean): boolean {
  const inBeat = at % 1.5;
  if (quarters % 1.5 === 0) return inBeat === 0 && !(isRest && quarters === 3 && at % 3 !== 0);
  return inBeat + quarters <= 1.5 && quarters <= 1 && (!isRest || inBeat % quarters === 0);
}
