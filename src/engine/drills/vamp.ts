import type { Changes, Chord, PlayedBar, Span } from '../harmony/index.ts';
import { barLength, ticks, type Metre } from '../units/index.ts';

/** Bars of one metre from tick 0 on. */
export function barsOf(metre: Metre, count: number): { readonly bars: readonly PlayedBar[] } {
  const length = barLength(metre);
  const bar = (i: number): PlayedBar => ({
    start: ticks(i * length),
    length,
    metre,
    mark: null,
    written: i,
    skipped: ticks(0),
  });
  return { bars: Array.from({ length: count }, (_, i) => bar(i)) };
}

/** Bars of one metre with chords one after the other, each with its length in ticks. */
export function changesOf(
  metre: Metre,
  count: number,
  chords: readonly (readonly [Chord, number])[],
): Changes {
  const bar = barLength(metre);
  let at = 0;
  const spans = chords.map(([chord, length]): Span => {
    const start = at;
    at += length;
    return {
      start: ticks(start),
      length: ticks(length),
      chord,
      written: chord,
      silence: null,
      treatment: null,
      bar: Math.floor(start / bar),
      from: 0,
      to: 0,
    };
  });
  return { length: ticks(count * bar), ...barsOf(metre, count), spans };
}

/** One chord for as many whole bars as `length` needs. */
export function vampOf(chord: Chord, metre: Metre, length: number): Changes {
  const bar = barLength(metre);
  const count = Math.max(1, Math.ceil(length / bar));
  return changesOf(metre, count, [[chord, count * bar]]);
}

/**
 * The changes with every chord on the nearest place that can be written: where five chords share a bar evenly
 * no sign shows where they begin. Our choice, because a drill is read.
 * @param grid what is written, ticks
 */
export function snapped(changes: Changes, grid: number): Changes {
  const { bars, spans } = changes;
  const snap = (at: number): number => {
    const bar = bars.findLast(({ start }) => start <= at) ?? bars[0]!;
    const downbeat = bar.start - bar.skipped;
    const place = downbeat + Math.round((at - downbeat) / grid) * grid;
    return Math.min(bar.start + bar.length, Math.max(bar.start, place));
  };
  const edges = [...spans.map(({ start }) => snap(start)), changes.length];
  return {
    ...changes,
    spans: spans.map((span, i) => ({
      ...span,
      start: ticks(edges[i]!),
      length: ticks(edges[i + 1]! - edges[i]!),
    })),
  };
}
