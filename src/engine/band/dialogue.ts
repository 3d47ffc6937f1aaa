import { feltTempo } from './felt.ts';
import type { Stroke } from './rhythm.ts';
import type { BandSettings } from './types.ts';

/** How often comments are made, beside a feel's own rate: more as the band plays harder, less at speed. Our choice. */
export function liveliness(settings: BandSettings): number {
  const { intensity, density } = settings;
  return (0.35 + 0.8 * intensity + 0.3 * density) * Math.min(1, 220 / feltTempo(settings));
}

/** The snare speaks in the holes the comping leaves; the bass drum goes with it. Our choice, as a trio talks. */
export function answering(strokes: readonly Stroke[], heard: ReadonlySet<number>, withIt: boolean): number {
  const share = shareOf(strokes, heard);
  return withIt ? 0.3 + 1.7 * share : 1.3 - share;
}

/** How many of the strokes fall together with those heard, 0 to 1. */
export function shareOf(strokes: readonly Stroke[], heard: ReadonlySet<number>): number {
  const together = strokes.filter((stroke) => heard.has(stroke.nominal)).length;
  return strokes.length === 0 ? 0 : together / strokes.length;
}
