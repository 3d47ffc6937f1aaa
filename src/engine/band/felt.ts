import { bpm, TEMPO_RANGE, type Bpm } from '../units/index.ts';
import type { BandSettings } from './types.ts';

/** Felt beats in the time of a written one. */
const RATE = { half: 0.5, double: 2 } as const;

/**
 * The tempo the band feels: half or twice the beat's where it plays in half or double time. Swing and
 * vocabulary go by it; changes and bars do not.
 * @returns quarter notes a minute, within the band's tempo range
 */
export function feltTempo({ tempo, time }: Pick<BandSettings, 'tempo' | 'time'>): Bpm {
  if (time === undefined) return tempo;
  return bpm(Math.min(TEMPO_RANGE.max, Math.max(TEMPO_RANGE.min, tempo * RATE[time])));
}
