import { roundPieces, ticks, type PlayPlan, type Ticks } from '../engine/index.ts';

/** The tick of a plan's round at which a tick of the form is heard; its beginning where it is not. */
export function intoRound(plan: PlayPlan, form: number): Ticks {
  if (plan.stands !== undefined) return ticks(0);
  const piece = roundPieces(plan).find((known) => form >= known.form && form < known.form + known.length);
  const whole = plan.loop === null || form !== plan.loop.from;
  return ticks(piece === undefined || !whole ? 0 : piece.at + form - piece.form);
}
