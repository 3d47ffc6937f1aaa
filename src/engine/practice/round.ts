import { BETWEEN_ROUNDS, type Changes, type PlayedBar, type Span } from '../harmony/index.ts';
import { joinChanges, sliceChanges } from '../treatment/index.ts';
import { barLength, COMMON_TIME, ticks, type Ticks } from '../units/index.ts';
import type { Practice } from './types.ts';

/** A stretch of the form's beat line, `to` exclusive. */
export interface Stretch {
  readonly from: Ticks;
  readonly to: Ticks;
}

/** A piece of a round and where it lies in the form. */
export interface Piece {
  /** Ticks from the start of the round. */
  readonly at: number;
  readonly length: number;
  readonly form: number;
}

/**
 * What of the form a round plays, in order: the run-up, the snippet and its landing, round the end of
 * the form where they reach beyond it. Run-up and landing together are never longer than the form.
 * @param length of the form
 * @param loop null plays the whole form
 */
export function musicPieces(length: number, loop: Stretch | null, practice: Practice | null): Piece[] {
  if (loop === null) return [{ at: 0, length, form: 0 }];
  const runUp = Math.min(practice?.runUp ?? 0, length);
  const landing = Math.min(practice?.landing ?? 0, length);
  const pieces: Piece[] = [];
  let from = loop.from - runUp;
  let at = 0;
  const end = loop.to + landing;
  while (from < end) {
    const form = ((from % length) + length) % length;
    const here = Math.min(end - from, length - form);
    pieces.push({ at, length: here, form });
    at += here;
    from += here;
  }
  return pieces;
}

/** The pieces of the form as changes of their own. */
export function playPieces(treated: Changes, pieces: readonly Piece[]): Changes {
  const parts = pieces.map(({ form, length }) => sliceChanges(treated, ticks(form), ticks(form + length)));
  return parts.length === 1 ? parts[0]! : joinChanges(parts);
}

/** How long the silence after each round is, and how much of it is counted. */
export interface Gap {
  readonly length: Ticks;
  readonly counted: Ticks;
}

/** The silence after a round that begins with the bar `first`. */
export function gapOf(first: PlayedBar | undefined, practice: Practice | null): Gap {
  const bar = barLength(first?.metre ?? COMMON_TIME);
  const { rest = 0, countIn = 0 } = practice ?? {};
  return { length: ticks(bar * (rest + countIn)), counted: ticks(bar * countIn) };
}

/** Music with the silence after it. */
export function withGap(music: Changes, { length }: Gap): Changes {
  const first = music.bars[0];
  if (length === 0 || first === undefined) return music;
  const bar = barLength(first.metre);
  const bars = Array.from({ length: length / bar }, (_, i): PlayedBar => ({
    start: ticks(music.length + i * bar),
    length: bar,
    metre: first.metre,
    mark: null,
    written: BETWEEN_ROUNDS,
    skipped: ticks(0),
  }));
  const span: Span = {
    start: music.length,
    length,
    chord: null,
    written: null,
    silence: 'rest',
    treatment: null,
    bar: music.bars.length,
    from: 0,
    to: 0,
  };
  return {
    length: ticks(music.length + length),
    bars: [...music.bars, ...bars],
    spans: [...music.spans, span],
  };
}
