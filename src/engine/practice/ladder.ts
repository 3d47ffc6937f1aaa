import { bpm, TEMPO_RANGE, type Bpm } from '../units/index.ts';
import type { Ladder, Standing } from './types.ts';

/**
 * The tempo of a round. It climbs a rung every `rounds` rounds and stays at the last.
 * @param round before `standing` it is the tempo that stands there
 */
export function ladderTempo({ to, step, rounds }: Ladder, { ladder }: Standing, round: number): Bpm {
  const rungs = Math.max(0, Math.floor((round - ladder.round) / rounds));
  const gone = rungs * step;
  return bpm(to >= ladder.tempo ? Math.min(to, ladder.tempo + gone) : Math.max(to, ladder.tempo - gone));
}

/** A rung back: what was too fast is played slower (on a ladder that leads down, faster). */
export function rungBack({ from, to, step }: Ladder, tempo: Bpm): Bpm {
  const back = tempo + (to >= from ? -step : step);
  return bpm(Math.min(TEMPO_RANGE.max, Math.max(TEMPO_RANGE.min, back)));
}

/** How many rounds the ladder takes from its first round to the first at its last tempo. */
export function ladderRounds({ from, to, step, rounds }: Ladder): number {
  return Math.ceil(Math.abs(to - from) / step) * rounds;
}
