import type { Changes } from '../harmony/index.ts';
import { randomFor } from '../units/index.ts';
import { STYLES, VARIETY, type LeadOptions } from '../voicing/index.ts';
import type { RoundPlan } from './types.ts';

/** Bars that a chord lasts on average on a vamp. Our choice. */
const LONG = 4;

/** True where the chords last so long that the band has to make its own changes. */
export const isVamp = ({ bars, spans }: Changes): boolean => spans.length * LONG <= bars.length;

/** How the comping hand makes use of the keys on a vamp, in semitones. Our choice, by ear and by the counts in the tests. */
const ROOM = { above: 7, drift: [-3, 8], variety: 2 * VARIETY } as const;

/**
 * How a round's chords are led: on a vamp over more of the keys, round another centre in every round,
 * and more freely among the ways that cost nearly the same.
 */
export function roomFor(plan: RoundPlan): Pick<LeadOptions, 'range' | 'centre' | 'variety'> {
  const { changes, settings, round } = plan;
  if (!isVamp(changes)) return {};
  const { low, high, centre } = STYLES[settings.voicing];
  const [least, most] = ROOM.drift;
  const drift = least + (most - least) * randomFor(settings.seed, 'comp', round, 'register').next();
  return {
    range: { low, high: high + ROOM.above },
    centre: centre + drift,
    variety: ROOM.variety,
  };
}
