/**
 * Rhythms in writing, as the feels hold them: hits parted by spaces, each
 *
 *     beat [place] [length] [weight] [=what]
 *
 * - beat: counted from 1
 * - place within it: nothing (on the beat), `&` (the off-beat, swung where the feel swings), `e` and `a`
 *   (the sixteenths either side of it), `t` and `l` (second and last of a triplet)
 * - length: `.` short, `-` held, nothing in between
 * - weight: `>` accented, `'` ghosted
 * - what: for the bass what to play (R root, 5 fifth, C chord tone, A approach, N the next root, O root
 *   an octave away, X the note before as a dead note); for drums a percussion key
 *
 * "1- 2&.>" is the Charleston: a held chord on 1, a short accented one on the and of 2.
 */
export interface Hit {
  /** Counted from 0. */
  readonly pulse: number;
  readonly place: '' | '&' | 'e' | 'a' | 't' | 'l';
  readonly length: 'short' | 'held' | 'plain';
  readonly weight: 'accent' | 'ghost' | 'plain';
  readonly what: string | null;
}

const HIT = /^(\d{1,2})([&eatl]?)([.-]?)([>']?)(?:=(\w+))?$/;

/**
 * Reads a rhythm.
 * @returns the hits in order, or the word that cannot be read
 */
export function readHits(text: string): readonly Hit[] | { readonly unread: string } {
  const hits: Hit[] = [];
  for (const word of text.split(/\s+/).filter((part) => part !== '')) {
    const match = HIT.exec(word);
    if (match === null || match[1] === '0') return { unread: word };
    hits.push({
      pulse: Number(match[1]) - 1,
      place: (match[2] ?? '') as Hit['place'],
      length: match[3] === '.' ? 'short' : match[3] === '-' ? 'held' : 'plain',
      weight: match[4] === '>' ? 'accent' : match[4] === "'" ? 'ghost' : 'plain',
      what: match[5] ?? null,
    });
  }
  return hits;
}

/**
 * Where a hit lies within its pulse, 0 to below 1.
 * @param offbeat where the off-beat falls in a pulse of two
 * @param ternary whether the pulse falls into three; its off-beat is then the last third
 */
export function placeOf(place: Hit['place'], offbeat: number, ternary: boolean): number {
  switch (place) {
    case '':
      return 0;
    case '&':
      return ternary ? 2 / 3 : offbeat;
    case 'e':
      return ternary ? 1 / 3 : 1 / 4;
    case 'a':
      return ternary ? 2 / 3 : 3 / 4;
    case 't':
      return 1 / 3;
    case 'l':
      return 2 / 3;
  }
}
