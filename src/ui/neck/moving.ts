import type { Mark } from './layers.ts';

/**
 * The note an arrow key leads to from one of the neck's: along the string, or to the nearest on the next
 * string that has any. Null where there is none, or for another key.
 * @param turned true where the nut is on the right
 */
export function move(key: string, from: Mark, marks: readonly Mark[], turned: boolean): Mark | null {
  const along = { ArrowRight: 1, ArrowLeft: -1 }[key];
  const { string, fret } = from.note;
  if (along !== undefined) {
    const by = turned ? -along : along;
    const ahead = marks.filter(({ note }) => note.string === string && (note.fret - fret) * by > 0);
    return nearest(ahead, fret);
  }
  const across = { ArrowUp: -1, ArrowDown: 1 }[key];
  if (across === undefined) return null;
  const beyond = marks.filter(({ note }) => (note.string - string) * across > 0);
  const next = Math.min(...beyond.map(({ note }) => Math.abs(note.string - string)));
  return nearest(
    beyond.filter(({ note }) => Math.abs(note.string - string) === next),
    fret,
  );
}

const nearest = (marks: readonly Mark[], fret: number): Mark | null =>
  marks.reduce<Mark | null>(
    (best, mark) =>
      best === null || Math.abs(mark.note.fret - fret) < Math.abs(best.note.fret - fret) ? mark : best,
    null,
  );
