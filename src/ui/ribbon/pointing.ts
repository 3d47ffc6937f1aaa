import type { Layout } from './layout.ts';
import type { Metrics } from './metrics.ts';

/** The rows of a line that answer to the pointer. */
export type Row = 'hits' | 'rail' | 'chords' | 'functions' | 'lane' | 'scales' | 'targets';

/** The rows from top to bottom, by where they begin. */
const ROWS = [
  { row: 'rail', top: 'headTop' },
  { row: 'chords', top: 'chordTop' },
  { row: 'functions', top: 'functionTop' },
  { row: 'lane', top: 'laneTop' },
  { row: 'scales', top: 'scaleTop' },
  { row: 'targets', top: 'targetTop' },
] as const;

/** What lies under a point. */
export interface Hit {
  readonly line: number;
  readonly row: Row;
  /** A tick of the form, with a fraction. */
  readonly tick: number;
}

/**
 * What lies under a point of the ribbon.
 * @param x px from the left edge of the lines
 * @param y px from the top of the first line
 */
export function hit(layout: Layout, metrics: Metrics, x: number, y: number): Hit | null {
  const index = Math.min(layout.lines.length - 1, Math.max(0, Math.floor(y / metrics.pitch)));
  const line = layout.lines[index];
  if (line === undefined) return null;
  const inside = y - index * metrics.pitch;
  const row = ROWS.findLast(({ top }) => inside >= metrics[top])?.row ?? 'hits';
  const into = (Math.max(0, x) / metrics.width) * layout.capacity;
  return { line: index, row, tick: line.start + Math.min(into, line.length - 1) };
}

/** A stretch as it lies on the lines. */
export interface Piece {
  readonly line: number;
  /** Px from the left edge of the lines. */
  readonly left: number;
  readonly width: number;
  /** Whether the stretch begins and ends in this piece. */
  readonly begins: boolean;
  readonly ends: boolean;
}

/** Cuts a stretch of the form at the ends of the lines. */
export function pieces(layout: Layout, metrics: Metrics, from: number, to: number): Piece[] {
  const px = metrics.width / layout.capacity;
  return layout.lines.flatMap((line, index) => {
    const start = Math.max(from, line.start);
    const end = Math.min(to, line.start + line.length);
    if (end <= start) return [];
    return {
      line: index,
      left: (start - line.start) * px,
      width: (end - start) * px,
      begins: start === from,
      ends: end === to,
    };
  });
}
