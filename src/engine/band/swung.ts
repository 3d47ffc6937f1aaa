import type { Changes } from '../harmony/index.ts';
import { feelCalled } from './feels.ts';
import { feltTempo } from './felt.ts';
import { gridOf } from './pulses.ts';
import { offbeatAt } from './swing.ts';
import type { BandSettings } from './types.ts';

/**
 * Where a line of written beats and off-beats sounds in the band's feel: on the off-beats that all share, and
 * on the beat exactly. Beats that fall into three stay even.
 * @returns written ticks to sounding ones, on the beat line of `changes`
 * @throws RangeError when no feel has the settings' name
 */
export function swungIn(changes: Changes, settings: BandSettings): (at: number) => number {
  const offbeat = offbeatAt(feelCalled(settings.feel).swing, settings.swingRatio, feltTempo(settings));
  const pulses = gridOf(changes, settings.time).flatMap((bar) => bar.pulses);
  return (at) => {
    const pulse = pulses.findLast((known) => known.at <= at);
    if (pulse === undefined || pulse.ternary || at >= pulse.at + pulse.length) return at;
    const place = (at - pulse.at) / pulse.length;
    const sounds = place <= 0.5 ? 2 * place * offbeat : offbeat + 2 * (place - 0.5) * (1 - offbeat);
    return Math.round(pulse.at + sounds * pulse.length);
  };
}
