import {
  carryBars,
  carryTreatments,
  DELETED_BAR,
  type Follow,
  type Loop,
  type Project,
  type Reading,
} from '../engine/index.ts';

/** What of a project is tied to bars. */
type Tied = Pick<Project, 'layers' | 'hits' | 'loop' | 'scales' | 'drills' | 'forms'>;

/** Where the written bars of one reading are in the next. */
export function followOf(before: Reading, after: Reading): Follow {
  return carryBars(before.chart, after.chart);
}

/** True when anything of the project is tied to a bar. */
export function isTied({ layers, loop, ...lists }: Tied): boolean {
  const { hits, scales, drills, forms } = lists;
  return loop !== null || [layers.placed, hits, scales, drills, forms].some((list) => list.length > 0);
}

/** Takes everything that is tied to bars over an edit of the text. Values that stay the same are kept. */
export function carryTied(tied: Tied, before: Reading, after: Reading): Tied {
  const { layers, hits, loop, scales, drills, forms } = tied;
  const follow = followOf(before, after);
  const placed = carryTreatments(layers.placed, follow);
  return {
    layers: placed.every((item, i) => item === layers.placed[i]) ? layers : { ...layers, placed },
    hits: carryHits(hits, follow),
    loop: loop === null ? null : carryLoop(loop, before, after, follow),
    scales: carryPlaces(scales, follow),
    forms: carryPlaces(forms, follow),
    drills: drills.flatMap((drill): typeof drills => {
      if (drill.place === null) return [drill];
      return carryPlaces([drill.place], follow).map((place) => ({ ...drill, place }));
    }),
  };
}

/** What is tied to a bar follows it, and goes with it. */
function carryPlaces<T extends { readonly bar: number }>(list: readonly T[], follow: Follow): readonly T[] {
  return list.flatMap((item) => {
    const bar = follow(item.bar);
    return bar === null ? [] : [{ ...item, bar }];
  });
}

/** Hits follow their bar; one whose bar is gone is kept where no bar is, as treatments are. */
function carryHits(hits: Project['hits'], follow: Follow): Project['hits'] {
  const carried = hits.map((hit) => {
    const bar = hit.bar === DELETED_BAR ? DELETED_BAR : (follow(hit.bar) ?? DELETED_BAR);
    return bar === hit.bar ? hit : { ...hit, bar };
  });
  return carried.every((hit, i) => hit === hits[i]) ? hits : carried;
}

/** A loop follows its first bar, to the pass nearest to where it was; it ends where that bar is gone. */
function carryLoop(loop: Loop, before: Reading, after: Reading, follow: Follow): Loop | null {
  const written = before.form.bars[loop.bar]?.bar.index;
  const there = written === undefined ? null : follow(written);
  let best: number | null = null;
  for (const [i, { bar }] of after.form.bars.entries()) {
    if (bar.index !== there) continue;
    if (best === null || Math.abs(i - loop.bar) < Math.abs(best - loop.bar)) best = i;
  }
  return best === null ? null : { ...loop, bar: best };
}
