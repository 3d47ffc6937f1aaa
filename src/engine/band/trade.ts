import type { Ticks } from '../units/index.ts';
import type { RoundPlan, Trade } from './types.ts';

/** Whether a bar of the round, by its index, is left to the player; the first of the next round may be asked for too. */
export function isOpen(plan: RoundPlan, bar: number): boolean {
  const { trade } = plan.settings;
  if (trade === undefined || trade.bars >= trade.every) return false;
  const count = (plan.firstBar ?? plan.round * plan.changes.bars.length) + bar;
  return count >= 0 && count % trade.every >= trade.every - trade.bars;
}

/** Where the next open bar after bar `bar` begins within the round, or null. */
export function nextOpen(plan: RoundPlan, bar: number): Ticks | null {
  const { bars } = plan.changes;
  for (let next = bar + 1; next < bars.length; next++) if (isOpen(plan, next)) return bars[next]!.start;
  return null;
}

/** Whether the bass is silent in the bars left to the player. */
export const restsInOpen = ({ goesOn }: Trade): boolean => goesOn !== 'bass-and-drums';
