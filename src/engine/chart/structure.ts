import type { Bar } from './types.ts';

/** An ending of a repeated stretch: the passes it is played on and its bars, both ends included. */
export interface Ending {
  readonly passes: readonly number[];
  readonly from: number;
  to: number;
}

/** A repeated stretch of written bars, both ends included. */
export interface Stretch {
  readonly start: number;
  end: number;
  /** How often it is played in all. */
  times: number;
  /** In the order they are written; empty for a plain repeat. */
  readonly endings: Ending[];
}

/** Something wrong with the repeats, by the written bar it concerns. */
export interface StructureIssue {
  readonly kind:
    | 'unclosed-repeat'
    | 'unopened-repeat'
    | 'ending-without-repeat'
    | 'ending-without-return'
    | 'last-ending-returns'
    | 'missing-pass';
  readonly bar: number;
  /** The bar a missing sign is taken to stand at; for a missing pass its number. */
  readonly other: number;
}

export interface Structure {
  readonly stretches: readonly Stretch[];
  readonly issues: readonly StructureIssue[];
}

/** What the repeats are read from. */
export type StructureBar = Pick<Bar, 'repeatStart' | 'repeatEnd' | 'ending' | 'endingStart'>;

/**
 * Pairs the repeat signs. `:|` goes back to the nearest `|:` still open; without one, to the end of the
 * repeat before or to the top (common practice). Repeats may be nested (our choice: paper avoids it).
 * Endings belong to the stretch before them; the last one runs on.
 */
export function readStructure(bars: readonly StructureBar[]): Structure {
  const stretches: Stretch[] = [];
  const issues: StructureIssue[] = [];
  const starts: number[] = [];
  let floor = 0;
  let group: { start: number; opened: boolean; endings: Ending[] } | null = null;

  const closeGroup = () => {
    if (group === null) return;
    const { start, opened, endings } = group;
    group = null;
    const first = endings[0]!;
    const last = endings.at(-1)!;
    const returns = (ending: Ending) => bars[ending.to]!.repeatEnd > 0;
    if (!opened && !endings.some(returns)) {
      issues.push({ kind: 'ending-without-repeat', bar: first.from, other: start });
      return;
    }
    for (const ending of endings.slice(0, -1))
      if (!returns(ending))
        issues.push({ kind: 'ending-without-return', bar: ending.from, other: ending.to });
    const covered = new Set<number>();
    for (const { passes } of endings) for (const pass of passes) covered.add(pass);
    const highest = [...covered].reduce((most, pass) => Math.max(most, pass), 1);
    if (endings.length === 1 && !returns(last)) {
      issues.push({ kind: 'ending-without-return', bar: last.from, other: last.to });
    }
    if (endings.length > 1 && returns(last))
      issues.push({ kind: 'last-ending-returns', bar: last.to, other: highest });
    // A single ending that turns back is left out on the pass after it.
    const times = endings.length === 1 ? highest + 1 : highest;
    for (let pass = 1; pass <= highest; pass++)
      if (!covered.has(pass)) issues.push({ kind: 'missing-pass', bar: first.from, other: pass });
    stretches.push({ start, end: last.to, times, endings });
    if (starts.length === 0) floor = last.to + 1;
  };

  for (const [index, bar] of bars.entries()) {
    if (group && (bar.ending === null || bar.repeatStart)) closeGroup();
    if (bar.repeatStart) starts.push(index);
    if (bar.ending !== null) {
      if (group === null) {
        const opened = starts.length > 0;
        group = { start: starts.pop() ?? floor, opened, endings: [] };
      }
      const { endings }: { endings: Ending[] } = group;
      if (bar.endingStart || endings.length === 0)
        endings.push({ passes: bar.ending, from: index, to: index });
      else endings.at(-1)!.to = index;
    } else if (bar.repeatEnd > 0) {
      const start = starts.pop();
      if (start === undefined && floor > 0)
        issues.push({ kind: 'unopened-repeat', bar: index, other: floor });
      stretches.push({ start: start ?? floor, end: index, times: bar.repeatEnd, endings: [] });
      if (starts.length === 0) floor = index + 1;
    }
  }
  closeGroup();
  for (const start of starts) issues.push({ kind: 'unclosed-repeat', bar: start, other: bars.length - 1 });
  return { stretches, issues };
}
