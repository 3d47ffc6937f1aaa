import type { Chord, Degree } from '../harmony/index.ts';
import { scaleById } from '../scales/index.ts';
import { alteredRungs } from './phrases.ts';
import { cheapestFirst, COST, goalsOf, heightCost, stepsInto, type Line, type Priced } from './resolve.ts';
import { rungsOf, type Reach, type Rung } from './rungs.ts';

/** The chord tones of a dominant: what a line may begin on. */
const BEGINS: readonly (Degree | null)[] = ['1', '3', '5', 'b7'];

const WAYS = ['up', 'down'] as const;
type Way = (typeof WAYS)[number];

/**
 * Lines that are plain, then altered, then resolved: by step through the mixolydian scale from a chord tone, on
 * through the altered scale from the nearest next note, and by step of at most a whole tone into a resting note
 * of the next chord. One for each chord tone they begin on, the best first.
 * @param plain how many notes are plain, at least one
 * @param altered how many are altered, at least one
 */
export function bridges(
  root: string,
  next: Chord,
  plain: number,
  altered: number,
  reach: Reach,
): readonly Line[] {
  const before = rungsOf(scaleById('mixolydian', root)!.notes, reach);
  const after = alteredRungs(root, reach);
  const goals = goalsOf(next, reach);
  const found: Priced[] = [];
  for (const first of before.filter(({ degree }) => BEGINS.includes(degree))) {
    for (const opens of WAYS) {
      const opening = onFrom(before, first, opens, plain - 1);
      if (opening === null) continue;
      for (const closes of WAYS) {
        const closing = onFrom(after, opening.at(-1) ?? first, closes, altered);
        if (closing === null) continue;
        const notes = [
          ...[first, ...opening].map((rung, i) => ({
            rung,
            head: i === 0,
            why: `plain: the ${rung.degree}`,
          })),
          ...closing.map((rung, i) => ({ rung, head: i === 0, why: `altered: the ${rung.degree}` })),
        ];
        const own = heightCost(first, reach) + (opens === closes ? 0 : COST.turn);
        for (const { goal, why, cost } of stepsInto(goals, closing.at(-1)!)) {
          found.push({ line: { notes, goal, goalWhy: why }, cost: cost + own });
        }
      }
    }
  }
  const begun = new Set<Degree | null>();
  return cheapestFirst(found).filter(({ notes }) => {
    const { degree } = notes[0]!.rung;
    return !begun.has(degree) && begun.add(degree);
  });
}

/** The next `count` notes of a ladder from a note on, up or down; null where the ladder ends before. */
function onFrom(rungs: readonly Rung[], { pitch }: Rung, way: Way, count: number): readonly Rung[] | null {
  const on =
    way === 'up'
      ? rungs.filter((rung) => rung.pitch > pitch)
      : rungs.filter((rung) => rung.pitch < pitch).toReversed();
  return on.length < count ? null : on.slice(0, count);
}
