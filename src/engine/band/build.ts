import type { BandSettings } from './types.ts';

/** How hard the band plays at the height of a build, and how much busier the comping is there. Our choice. */
const HEIGHT = 0.95;
const BUSIER = 0.3;

/**
 * The settings as a round is played: over `build` rounds the band rises evenly from its set intensity
 * to its height, the density with it, and begins anew, as for the next soloist. Common practice.
 * @param round counted from 0
 */
export function settingsIn(settings: BandSettings, round: number): BandSettings {
  const { build, intensity, density } = settings;
  if (build === undefined || build < 2) return settings;
  const step = (round % build) / (build - 1);
  return {
    ...settings,
    intensity: intensity + step * Math.max(0, HEIGHT - intensity),
    density: density + step * Math.min(BUSIER, 1 - density),
  };
}
