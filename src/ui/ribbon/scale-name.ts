/** Width of a usual letter of the scale lane's type at its full width and at its narrowest, rem; measured. */
const LETTER = { full: 0.545, narrow: 0.435 } as const;
/** What other letters take of that. */
const SLIM = /[ijlfrt \-♭♯]/u;
const WIDE = /[mw]/;
const widthOf = (text: string) =>
  [...text].reduce((sum, letter) => sum + (SLIM.test(letter) ? 0.6 : WIDE.test(letter) ? 1.45 : 1), 0);

/** How the name of a scale is set in its stretch of the lane. */
export interface SetName {
  /** Percent of the face's full width. */
  readonly stretch: 78 | 100;
  readonly lines: number;
}

/**
 * Sets a name whole or not at all, since half of it would be another scale or none: in one line, in a narrower
 * one, then in several.
 * @param room px
 * @param rem px of a root em
 * @param most how many lines there is room for
 * @returns null where it has no room
 */
export function setName(name: string, room: number, rem: number, most: number): SetName | null {
  if (linesOf(name, room / (LETTER.full * rem)) === 1) return { stretch: 100, lines: 1 };
  const lines = linesOf(name, room / (LETTER.narrow * rem));
  return lines <= most ? { stretch: 78, lines } : null;
}

/** How many lines a name takes that hold so many letters each; it breaks at spaces and hyphens. */
function linesOf(name: string, letters: number): number {
  let lines = 1;
  let used = 0;
  for (const word of name.split(/(?<=[ -])/)) {
    const width = widthOf(word.trimEnd());
    if (width > letters) return Infinity;
    if (used + width > letters) {
      lines++;
      used = 0;
    }
    used += widthOf(word);
  }
  return lines;
}
