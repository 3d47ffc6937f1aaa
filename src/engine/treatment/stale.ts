import type { Changes } from '../harmony/index.ts';
import type { Ticks } from '../units/index.ts';
import { dominantsOf, firstDominant } from './dominants.ts';
import { indexAt } from './slice.ts';
import type { PlacedTreatment } from './types.ts';

/** The `bar` of a placed treatment whose written bar has been deleted. It is kept and does not sound. */
export const DELETED_BAR = -1;

/** A placed treatment that does not sound, and why. */
export interface StaleTreatment {
  readonly id: string;
  /** One sentence: "Bar 4 holds Cmaj7 now, no dominant." */
  readonly reason: string;
}

/**
 * The placed treatments that meet no dominant at any pass of their bar. They stay where they are, and
 * sound again when a dominant stands there again.
 * @param changes one whole chorus as written
 */
export function staleTreatments(changes: Changes, placed: readonly PlacedTreatment[]): StaleTreatment[] {
  const dominants = dominantsOf(changes);
  return placed.flatMap(({ id, bar: written, at, length }): StaleTreatment[] => {
    const name = `Bar ${written + 1}`;
    if (written === DELETED_BAR) return [{ id, reason: 'Its bar has been deleted.' }];
    const played = changes.bars.filter((bar) => bar.written === written);
    if (played.length === 0) return [{ id, reason: `${name} is not played.` }];
    const meets = played.some((bar) => {
      const from = bar.start - bar.skipped + at;
      const found = dominants[firstDominant(dominants, Math.max(from, bar.start))];
      return found !== undefined && found.from < from + length;
    });
    if (meets) return [];
    return [{ id, reason: `${name} holds ${chordsIn(changes, played[0]!, at, length)} now, no dominant.` }];
  });
}

function chordsIn(
  { spans }: Changes,
  bar: { start: Ticks; skipped: Ticks },
  at: number,
  length: number,
): string {
  const from = bar.start - bar.skipped + at;
  const first = Math.max(0, indexAt(spans, from));
  const names: string[] = [];
  for (let index = first; index < spans.length && spans[index]!.start < from + length; index++) {
    names.push(spans[index]!.written?.text ?? 'no chord');
  }
  return names.length === 0 ? 'no chord' : names.join(' and ');
}

/**
 * Takes placed treatments over an edit of the chart: each follows its written bar. None is lost: one
 * whose bar is gone is kept at {@link DELETED_BAR}.
 * @param carry from a bar before the edit to the bar it has become, null when it is gone
 */
export function carryTreatments(
  placed: readonly PlacedTreatment[],
  carry: (bar: number) => number | null,
): PlacedTreatment[] {
  return placed.map((treatment) => {
    const bar = treatment.bar === DELETED_BAR ? DELETED_BAR : (carry(treatment.bar) ?? DELETED_BAR);
    return bar === treatment.bar ? treatment : { ...treatment, bar };
  });
}
