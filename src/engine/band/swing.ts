import { TEMPO_RANGE, ticksIn, type Bpm, type Random, type Seconds } from '../units/index.ts';
import type { BandSettings } from './types.ts';

/**
 * Long part of the beat over its short part, as drummers play it on the ride at `tempo`.
 *
 * From medium tempo up the short note lasts about 100 ms whatever the tempo, so that the ratio falls
 * from 3.5:1 to 1:1 at about 300 bpm; it is never larger than 3.5 (Friberg and Sundström, Swing ratios
 * and ensemble timing in jazz performance, Music Perception 19(3), 2002). A short note of 100 ms gives
 * 600 / tempo - 1 (computed).
 * @param tempo quarter notes a minute
 * @returns 1 to 3.5
 * @throws RangeError when `tempo` is not within the band's tempo range
 */
export function swingRatioAt(tempo: number): number {
  if (!(tempo >= TEMPO_RANGE.min && tempo <= TEMPO_RANGE.max)) {
    throw new RangeError(`tempo must lie between ${TEMPO_RANGE.min} and ${TEMPO_RANGE.max}, not ${tempo}`);
  }
  const short = 0.1;
  return Math.min(3.5, Math.max(1, 60 / tempo / short - 1));
}

/** How a feel divides the beat: by the tempo's ratio, evenly, or by a ratio of its own. */
export type Swing = 'tempo' | 'straight' | number;

/**
 * Where in the beat the off-beat falls, 0.5 (even) to 0.778 (3.5:1).
 *
 * A ratio set by the player holds for every feel that swings; a straight feel stays straight. A feel's
 * own ratio gives way to the tempo's where that is smaller: at speed there is no time for a shuffle.
 * Everyone in the band shares these off-beats; Friberg and Sundström (2002) found cymbal and soloist
 * together on the off-beat, and apart on the beat.
 */
export function offbeatAt(swing: Swing, asked: number | null, tempo: Bpm): number {
  if (swing === 'straight') return 0.5;
  const natural = swingRatioAt(tempo);
  const ratio = asked ?? (swing === 'tempo' ? natural : Math.min(swing, natural));
  return ratio / (1 + ratio);
}

/**
 * How late a hand is, in whole ticks, never early: a note belongs to the beat it is written on, so what
 * is taken back and played anew from a beat is neither lost nor doubled. At most a sixteenth of a quarter.
 * @param random the bar's generator
 * @param settings the band's; on the grid nobody is late
 * @param least seconds every note is late
 * @param spread seconds more that chance may add
 */
export function lateness(
  random: Random,
  { tempo, onGrid }: Pick<BandSettings, 'tempo' | 'onGrid'>,
  least: number,
  spread: number,
): number {
  const late = ticksIn((least + spread * random.next()) as Seconds, tempo);
  return onGrid ? 0 : Math.round(Math.min(late, 1260));
}
