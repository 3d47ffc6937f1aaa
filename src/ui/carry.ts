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
type Tied = Pick<Project, 'layers' | 'hits' | 'loop' | 'scales'>;

/** Where the written bars of one reading are in the next. */
export function followOf(before: Reading, after: Reading): Follow {
  return carryBars(before.chart, after.chart);
}

/** True when anything of the project is tied to a bar. */
export function isTied({ layers, hits, loop, scales }: Tied): boolean {
  return layers.placed.length > 0 || hits.length > 0 || loop !== null || scales.length > 0;
}

/** Takes everything that is tied to bars over an edit of the text. Values that stay the same are kept. */
export function carryTied(tied: Tied, before: Reading, after: Reading): Tied {
  const { layers, hits, loop, scales } = tied;
  const follow = followOf(before, after);
  const placed = carryTreatments(layers.placed, follow);
  return {
    layers: placed.every((item, i) => item === layers.placed[i]) ? layers : { ...layers, placed },
    hits: carryHits(hits, follow),
    loop: loop === null ? null : carryLoop(loop, before, after, follow),
    scales: scales.flatMap((pick) => {
      const bar = follow(pick.bar);
      return bar === null ? [] : { ...pick, bar };
    }),
  };
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
