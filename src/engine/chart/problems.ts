import { LIMITS } from './data.ts';
import type { Problem } from './types.ts';

/** A stretch of the chart's text, `to` exclusive. */
export interface Place {
  readonly from: number;
  readonly to: number;
}

/** Collects what is wrong with a text. */
export interface Reporter {
  error(place: Place, message: string, remedy: string): void;
  warning(place: Place, message: string, remedy: string): void;
  /** What was collected, in the order of the text. Past the limit one last entry counts the rest. */
  problems(): readonly Problem[];
}

/** Where each line of `text` begins. */
function lineStarts(text: string): number[] {
  const starts = [0];
  for (const match of text.matchAll(/\r\n|[\n\r\u2028\u2029]/g)) starts.push(match.index + match[0].length);
  return starts;
}

/** Line and column of `offset`, both counted from 1; a column is a UTF-16 code unit. */
function position(starts: readonly number[], offset: number): { line: number; column: number } {
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (starts[middle]! <= offset) low = middle;
    else high = middle - 1;
  }
  return { line: low + 1, column: offset - starts[low]! + 1 };
}

/** A collector for problems in `text`. */
export function reporter(text: string): Reporter {
  const found: (Place & Pick<Problem, 'severity' | 'message' | 'remedy'>)[] = [];
  const add = (severity: Problem['severity']) => (place: Place, message: string, remedy: string) => {
    found.push({ severity, from: place.from, to: place.to, message, remedy });
  };
  return {
    error: add('error'),
    warning: add('warning'),
    problems() {
      if (found.length === 0) return [];
      const starts = lineStarts(text);
      const ordered = found.toSorted((a, b) => a.from - b.from || a.to - b.to);
      const listed = ordered.slice(0, LIMITS.problems);
      const next = ordered[LIMITS.problems];
      if (next !== undefined) {
        const more = ordered.length - listed.length;
        listed.push({
          ...next,
          message: `From here on there are ${more} more places like these`,
          remedy: 'Is this a chart? Chords with bar lines between them, e.g. Dm7 | G7 | Cmaj7 |',
        });
      }
      return listed.map((problem) => ({ ...problem, ...position(starts, problem.from) }));
    },
  };
}

/** Typed text as a message quotes it: on one line and not too long. */
export function quote(text: string): string {
  const line = text.replace(/\s+/g, ' ');
  const letters = [...line.slice(0, LIMITS.quote * 2)];
  return letters.length > LIMITS.quote ? `“${letters.slice(0, LIMITS.quote).join('')}…”` : `“${line}”`;
}

/** For reading a piece of text that has been read before. */
export const SILENT: Reporter = { error: () => {}, warning: () => {}, problems: () => [] };
