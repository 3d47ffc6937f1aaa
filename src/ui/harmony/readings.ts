import { type Changes, type FunctionReading, type Span } from '../../engine/index.ts';
import { indexAt } from '../ribbon/layout.ts';

/** How the chords as written are heard, one reading for each span of `written`. */
export interface Readings {
  readonly written: Changes;
  /** Null where there is no chord, or where it is not told yet. */
  readonly readings: readonly (FunctionReading | null)[];
}

/**
 * The readings of a chart carried over an edit, until it is read anew: they stay with the chords before
 * and after those that changed.
 */
export function carryReadings({ written, readings }: Readings, after: Changes): Readings {
  if (after === written) return { written, readings };
  const old = written.spans;
  const { spans } = after;
  const most = Math.min(old.length, spans.length);
  let head = 0;
  while (head < most && alike(old[head]!, spans[head]!)) head++;
  let tail = 0;
  while (tail < most - head && alike(old.at(-1 - tail)!, spans.at(-1 - tail)!)) tail++;
  return {
    written: after,
    readings: spans.map((_, i) => {
      if (i < head) return readings[i] ?? null;
      const fromEnd = spans.length - i;
      return fromEnd <= tail ? (readings[old.length - fromEnd] ?? null) : null;
    }),
  };
}

const alike = (a: Span, b: Span) => a.written?.text === b.written?.text && a.silence === b.silence;

/** How the chord that is written at a tick of the form is heard. */
export function readingAt({ written, readings }: Readings, tick: number): FunctionReading | null {
  return readings[indexAt(written.spans, tick)] ?? null;
}
