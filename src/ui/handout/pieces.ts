import type { FormSet, PlacedScale } from './content.ts';
import type { Row } from './chart/rows.ts';
import { BETWEEN_ROWS, lanesOf } from './chart/heights.ts';
import type { DrawnDrill } from './drills.ts';
import type { Leaf, Piece } from './flow.ts';
import { FORMS_ACROSS } from './forms.ts';
import type { PlacedHit, ScaleForm } from '../../engine/index.ts';

/** What a piece of the handout shows. */
export type Shown =
  | { readonly type: 'title' }
  | { readonly type: 'words'; readonly text: string }
  | { readonly type: 'rows'; readonly rows: readonly Row[] }
  | { readonly type: 'heading'; readonly text: string }
  | { readonly type: 'scales' }
  | { readonly type: 'forms-heading'; readonly place: PlacedScale }
  | { readonly type: 'forms'; readonly place: PlacedScale; readonly forms: readonly ScaleForm[] }
  | { readonly type: 'drill-heading'; readonly drill: DrawnDrill }
  | { readonly type: 'system'; readonly drill: DrawnDrill; readonly index: number };

export type ShownPiece = Piece & { readonly shown: Shown };

/** Between things that have nothing to do with each other, after a heading, and within one thing; px. */
const GAP = { apart: 20, heading: 7, within: 9 };

/** Words longer than this stand across the page beneath the title, and not beside the code. Our choice. */
export const SHORT_WORDS = 420;

interface Content {
  readonly words: string;
  readonly rows: readonly Row[];
  readonly hits: readonly PlacedHit[];
  readonly scales: readonly PlacedScale[];
  readonly sets: readonly FormSet[];
  readonly drills: readonly DrawnDrill[];
  readonly room: number;
}

/** What a handout is made of, in its order. */
export function piecesOf({ words, rows, hits, scales, sets, drills, room }: Content): readonly ShownPiece[] {
  const piece = (id: string, of: Leaf, shown: Shown, gap: number, keeps = false): ShownPiece => ({
    id,
    of,
    shown,
    gap,
    keeps,
  });
  const scalesHeading = scales.every(({ coloured }) => coloured) ? 'Scales of the coloured chords' : 'Scales';
  const paragraphs =
    words.length > SHORT_WORDS ? words.split(/\n\s*\n/).filter((text) => text.trim() !== '') : [];
  return [
    piece('title', 'title', { type: 'title' }, 0),
    ...paragraphs.map((text, i) =>
      piece(`words ${i}`, 'words', { type: 'words', text }, i === 0 ? GAP.apart / 2 : GAP.within),
    ),
    ...inParts(rows, hits, room).map((part, i) =>
      piece(`chart ${i}`, 'chart', { type: 'rows', rows: part }, i === 0 ? GAP.apart : BETWEEN_ROWS),
    ),
    ...(scales.length > 0
      ? [
          piece('scales heading', 'scales', { type: 'heading', text: scalesHeading }, GAP.apart, true),
          piece('scales', 'scales', { type: 'scales' }, GAP.heading),
        ]
      : []),
    ...sets.flatMap(({ place, forms }) => {
      const id = `forms ${place.bar} ${place.at}`;
      return [
        piece(`${id} heading`, 'forms', { type: 'forms-heading', place }, GAP.apart, true),
        ...inGroups(forms, FORMS_ACROSS).map((group, i) =>
          piece(
            `${id} ${i}`,
            'forms',
            { type: 'forms', place, forms: group },
            i === 0 ? GAP.heading : GAP.within,
          ),
        ),
      ];
    }),
    ...drills.flatMap((drill) => {
      const of = `drill ${drill.id}` as const;
      return [
        piece(`${of} heading`, of, { type: 'drill-heading', drill }, GAP.apart, drill.systems.length > 0),
        ...drill.systems.map((_, index) => piece(`${of} ${index}`, of, { type: 'system', drill, index }, 4)),
      ];
    }),
  ];
}

/** A chart in one part, or where no page has room for it in parts of half a page. */
function inParts(
  rows: readonly Row[],
  hits: readonly PlacedHit[],
  room: number,
): readonly (readonly Row[])[] {
  if (rows.length === 0) return [];
  const heights = rows.map((row) => lanesOf(row, hits).height + BETWEEN_ROWS);
  if (heights.reduce((sum, height) => sum + height, 0) <= room) return [rows];
  const parts: Row[][] = [];
  let used = Infinity;
  for (const [i, row] of rows.entries()) {
    if (used + heights[i]! > room / 2) {
      parts.push([]);
      used = 0;
    }
    parts.at(-1)!.push(row);
    used += heights[i]!;
  }
  return parts;
}

const inGroups = <T>(items: readonly T[], size: number): readonly (readonly T[])[] =>
  Array.from({ length: Math.ceil(items.length / size) }, (_, i) => items.slice(i * size, (i + 1) * size));
