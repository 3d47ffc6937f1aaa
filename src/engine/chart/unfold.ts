import { ticks } from '../units/index.ts';
import { LIMITS } from './data.ts';
import { reporter } from './problems.ts';
import { readStructure, type Ending, type Stretch } from './structure.ts';
import type { Bar, Chart, Form, FormBar, Sign } from './types.ts';

/**
 * Lays a chart out in the order it is played in one chorus: repeats, endings and jumps carried out.
 * After D.C. and D.S. repeats are not taken again and the last ending is played (common practice).
 * Each jump is made once. The form ends at {@link LIMITS.formBars} bars, with a problem that says so.
 * @returns the bars as played, each with its start and which time through its repeat it is
 */
export function unfold(chart: Chart): Form {
  const { bars } = chart;
  const report = reporter(chart.text);
  const { stretches } = readStructure(bars);
  const startsAt = new Map<number, Stretch[]>();
  const endingAt = new Map<number, Stretch>();
  const returnsAt = new Map<number, Stretch>();
  for (const stretch of stretches) {
    startsAt.set(stretch.start, [...(startsAt.get(stretch.start) ?? []), stretch]);
    if (stretch.endings.length === 0) returnsAt.set(stretch.end, stretch);
    for (const [index, ending] of stretch.endings.entries()) {
      endingAt.set(ending.from, stretch);
      if (index < stretch.endings.length - 1 || stretch.times > lastPass(stretch))
        returnsAt.set(ending.to, stretch);
    }
  }
  const inside = innermost(bars, stretches);
  const has = (sign: Sign) => bars.some(({ signs }) => signs.includes(sign));
  const plainEndsAtFine = has('fine');
  const segno = bars.findIndex(({ signs }) => signs.includes('segno'));
  const coda = bars.findIndex(({ signs }) => signs.includes('coda'));

  const played: FormBar[] = [];
  const passes = new Map<Stretch, number>();
  const taken = new Set<number>();
  let start = ticks(0);
  let jump: Sign | null = null;
  let wentToCoda = false;
  const pass = (stretch: Stretch) => (jump ? stretch.times : (passes.get(stretch) ?? 1));
  const enter = (index: number, returning: Stretch | null) => {
    for (const stretch of startsAt.get(index) ?? [])
      if (stretch !== returning && (returning === null || stretch.end < returning.end))
        passes.set(stretch, 1);
  };

  enter(0, null);
  for (let index = 0; index < bars.length;) {
    const bar = bars[index]!;
    const group = endingAt.get(index);
    if (group) {
      const now = pass(group);
      const wanted = endingFor(group, now);
      if (wanted?.from !== index) {
        index = wanted && wanted.from > index ? wanted.from : group.end + 1;
        enter(index, null);
        continue;
      }
    }
    if (played.length >= LIMITS.formBars) {
      report.error(
        bar,
        `The form is longer than ${LIMITS.formBars} bars as played`,
        'It ends here. Repeat fewer times, or loop a stretch while you play.',
      );
      break;
    }
    const stretch = inside[index];
    played.push({ bar, start, pass: stretch ? pass(stretch) : 1 });
    start = ticks(start + bar.length);

    if (jump !== null) {
      const toCoda =
        jump === 'dc-al-coda' ||
        jump === 'ds-al-coda' ||
        ((jump === 'dc' || jump === 'ds') && !plainEndsAtFine);
      if (bar.signs.includes('fine') && !toCoda) break;
      if (bar.signs.includes('to-coda') && toCoda && coda >= 0 && !wentToCoda) {
        wentToCoda = true;
        index = coda;
        continue;
      }
    }
    const back = returnsAt.get(index);
    if (back && pass(back) < back.times) {
      passes.set(back, pass(back) + 1);
      index = back.start;
      enter(index, back);
      continue;
    }
    const sign = bar.signs.find((candidate) => JUMPS.includes(candidate));
    if (sign !== undefined && !taken.has(index)) {
      taken.add(index);
      const target = sign.startsWith('ds') ? segno : 0;
      if (target >= 0) {
        jump = sign;
        index = target;
        continue;
      }
    }
    index++;
    enter(index, null);
  }
  return { length: start, bars: played, problems: report.problems() };
}

const JUMPS: readonly Sign[] = ['dc', 'ds', 'dc-al-fine', 'dc-al-coda', 'ds-al-fine', 'ds-al-coda'];

/** The ending of a pass. One that is missing among them is the first ending; past the last there is none. */
function endingFor(stretch: Stretch, pass: number): Ending | undefined {
  const own = stretch.endings.find(({ passes }) => passes.includes(pass));
  return own ?? (pass < lastPass(stretch) ? stretch.endings[0] : undefined);
}

const lastPass = ({ endings }: Stretch) =>
  endings.reduce((most, { passes }) => Math.max(most, passes.at(-1) ?? 0), 0);

/** For each written bar the shortest stretch that holds it. */
function innermost(bars: readonly Bar[], stretches: readonly Stretch[]): (Stretch | undefined)[] {
  const out: (Stretch | undefined)[] = bars.map(() => undefined);
  // Inner stretches are closed first, so they stand first: the first to claim a bar is the innermost.
  const next = bars.map((_, index) => index);
  next.push(bars.length);
  const free = (index: number): number => {
    let root = index;
    while (next[root] !== root) root = next[root]!;
    while (next[index] !== root) [index, next[index]] = [next[index]!, root];
    return root;
  };
  for (const stretch of stretches) {
    for (let index = free(stretch.start); index <= stretch.end; index = free(index)) {
      out[index] = stretch;
      next[index] = index + 1;
    }
  }
  return out;
}
