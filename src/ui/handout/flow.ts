import type { HandoutPart } from '../../engine/index.ts';

/** Something that stands on a page in one piece. Lengths in px. */
export interface Piece {
  readonly id: string;
  /** What is left out to be rid of it: a part of the handout, or one drill. */
  readonly of: Leaf;
  /** From what stands above it on the same page. */
  readonly gap: number;
  /** Stays with the piece after it, as a heading does. */
  readonly keeps: boolean;
}

export type Leaf = Exclude<HandoutPart, 'drills'> | 'title' | `drill ${string}`;

/** Pieces of one page, in order. */
export type Page = readonly string[];

/**
 * Pieces laid out on pages, from the top down: none is cut, and a heading never stands alone at the foot.
 * @param height of a piece, px; 0 where it is not known yet
 * @param room the height of a page, px
 */
export function paginate(
  pieces: readonly Piece[],
  height: (id: string) => number,
  room: number,
): readonly Page[] {
  const pages: string[][] = [];
  let used = Infinity;
  const put = ({ id, gap }: Piece) => {
    const page = pages.at(-1);
    if (page === undefined || used + gap + height(id) > room) {
      pages.push([id]);
      used = height(id);
    } else {
      page.push(id);
      used += gap + height(id);
    }
  };
  for (const group of together(pieces)) {
    const wanted = group.reduce((sum, { id, gap }, i) => sum + (i === 0 ? 0 : gap) + height(id), 0);
    const first = group[0]!;
    // What is longer than a page is cut where it may be; all else moves on to the next page in one.
    if (wanted <= room && used + first.gap + wanted > room) used = Infinity;
    for (const piece of group) put(piece);
  }
  return pages;
}

/** Pieces in groups that stay on one page. */
function together(pieces: readonly Piece[]): readonly (readonly Piece[])[] {
  const groups: Piece[][] = [];
  for (const [i, piece] of pieces.entries()) {
    if (pieces[i - 1]?.keeps === true) groups.at(-1)!.push(piece);
    else groups.push([piece]);
  }
  return groups;
}

/** More pages than these a student does not put on a stand. */
export const MOST_PAGES = 2;

/**
 * What to leave out so that two pages are enough: the one thing that does, the least missed first; else as many
 * as it takes. Empty where nothing needs to go.
 */
export function leaveOut(
  pieces: readonly Piece[],
  height: (id: string) => number,
  room: number,
): readonly Leaf[] {
  const fits = (gone: readonly Leaf[]) =>
    paginate(
      pieces.filter(({ of }) => !gone.includes(of)),
      height,
      room,
    ).length <= MOST_PAGES;
  if (fits([])) return [];
  const leaves = [...new Set(pieces.map(({ of }) => of))].filter((leaf) => leaf !== 'title');
  const drills = leaves.filter((leaf) => leaf.startsWith('drill ')).reverse();
  const order = [
    ...(['scales'] as const).filter((leaf) => leaves.includes(leaf)),
    ...drills,
    ...(['forms', 'words', 'chart', 'code'] as const).filter((leaf) => leaves.includes(leaf)),
  ];
  const alone = order.find((leaf) => fits([leaf]));
  if (alone !== undefined) return [alone];
  const gone: Leaf[] = [];
  for (const leaf of order) {
    gone.push(leaf);
    if (fits(gone)) break;
  }
  return gone;
}
