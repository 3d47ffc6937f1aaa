import { CELLS, DRILL_KINDS } from './data.ts';
import { Pen, type Beats, type Stroke } from './pen.ts';
import type { Rung } from './rungs.ts';
import type { DrillSettings } from './types.ts';

/** Where a line is written: its ladder, the length of a running note, the beats, and the first tick. */
export interface Desk {
  readonly rungs: readonly Rung[];
  readonly unit: number;
  readonly beats: Beats;
  readonly from: number;
  /** What is run through, e.g. "G altered". */
  readonly scale: string;
}

const isRoot = (rung: Rung): boolean => rung.role === 'root';

/**
 * The root-anchored run: from the lowest root up, each root on the way held and struck again, on to the top
 * note, down to the lowest, home to the root; no other note is held or repeated. Common practice. Held means
 * here: until a beat, for two running notes at the least, so that it is struck again on the beat (our choice).
 */
export function rootRun({ rungs, unit, beats, from }: Desk): readonly Stroke[] {
  const home = rungs.findIndex(isRoot);
  if (home < 0) return [];
  const way = [...rising(home, rungs.length - 1), ...falling(rungs.length - 2, 0), ...rising(1, home)];
  const pen = new Pen(from);
  for (const [i, index] of way.entries()) {
    const rung = rungs[index]!;
    if (i > 0 && i === way.length - 1) {
      pen.comeHome(rung, beats, 'home to the root');
    } else if (isRoot(rung)) {
      pen.play(rung, beats.beatFrom(pen.at + 2 * unit) - pen.at, 'a root on the way is held', true);
      pen.play(rung, unit, 'and struck again', true);
    } else {
      const turn = index === rungs.length - 1 ? 'the top note' : index === 0 ? 'the lowest note' : '';
      pen.play(rung, unit, turn || (i <= rungs.length - 1 - home ? 'on up the scale' : 'on down the scale'));
    }
  }
  if (way.length === 1) pen.holdUntil(beats.barAt(pen.at).end);
  return pen.strokes;
}

/** The steps of each group of a drill that takes a shape through the scale; null for all others. */
export function groupOf({ kind, cell }: Pick<DrillSettings, 'kind' | 'cell'>): readonly number[] | null {
  if (kind === 'cells') return CELLS[cell] ?? Object.values(CELLS)[0]!;
  return DRILL_KINDS[kind].groups ?? null;
}

/**
 * A shape through the scale. Up: on each note from the lowest root until its top leaves the ladder. Down: the
 * same mirrored, each group falling from its first note. In turns every second group is played backwards. All
 * come home to the nearest root.
 */
export function shapes(desk: Desk, group: readonly number[], settings: DrillSettings): readonly Stroke[] {
  const { rungs, unit, beats, from, scale } = desk;
  const roots = rungs.flatMap((rung, i) => (isRoot(rung) ? [i] : []));
  const reach = Math.max(...group);
  const [lowest, highest] = [roots[0], roots.at(-1)];
  if (lowest === undefined || highest === undefined || rungs.length <= reach) return [];
  const way = groupsThrough(rungs.length, group, settings.direction, { lowest, highest });
  const pen = new Pen(from);
  let last = lowest;
  for (const { steps, falls } of way) {
    for (const [i, step] of steps.entries()) {
      pen.play(
        rungs[step]!,
        unit,
        i === 0 ? `on the ${rungs[step]!.degree} of ${scale}` : move(falls),
        i === 0,
      );
      last = step;
    }
  }
  if (way.length === 0) return [];
  const home = roots.reduce((near, root) => (Math.abs(root - last) < Math.abs(near - last) ? root : near));
  pen.comeHome(rungs[home]!, beats, 'home to the root');
  return pen.strokes;
}

const move = (falls: boolean): string => (falls ? 'down within the group' : 'up within the group');

interface Group {
  readonly steps: readonly number[];
  readonly falls: boolean;
}

function groupsThrough(
  count: number,
  group: readonly number[],
  direction: DrillSettings['direction'],
  { lowest, highest }: { readonly lowest: number; readonly highest: number },
): readonly Group[] {
  const reach = Math.max(...group);
  const inTurns = direction === 'turns';
  const laid = (starts: readonly number[], falls: boolean): readonly Group[] =>
    starts.map((start, i) => {
      const steps = group.map((step) => (falls ? start - step : start + step));
      const backwards = inTurns && i % 2 === 1;
      return { steps: backwards ? steps.toReversed() : steps, falls: backwards !== falls };
    });
  if (direction === 'down') return laid(falling(highest, reach), true);
  const up = laid(rising(lowest, count - 1 - reach), false);
  if (direction === 'up') return up;
  const turn = up.at(-1)?.steps.at(-1);
  // The note the line turns on is not played twice.
  const down = laid(falling(turn === count - 1 ? count - 2 : count - 1, reach), true);
  return [...up, ...down];
}

/** The whole numbers from one up to another, both included; none where that lies lower. */
const rising = (from: number, to: number): readonly number[] =>
  Array.from({ length: Math.max(0, to - from + 1) }, (_, i) => from + i);

const falling = (from: number, to: number): readonly number[] => rising(to, from).toReversed();
