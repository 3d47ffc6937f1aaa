import type { Sounds } from '../../src/audio/index.ts';

/** Every key sounds as a single full sample, so that an onset can be told to the frame. */
export function impulses(sampleRate: number, seconds = 0.005): Sounds {
  const buffer = new AudioBuffer({ length: Math.round(seconds * sampleRate), sampleRate });
  buffer.getChannelData(0)[0] = 1;
  return { pick: () => ({ buffer, gain: 1, rate: 1 }) };
}

/** Every key sounds as a steady tone at 0.1 that never dies away by itself within `seconds`. */
export function drones(sampleRate: number, seconds = 30): Sounds {
  const buffer = new AudioBuffer({ length: Math.round(seconds * sampleRate), sampleRate });
  buffer.getChannelData(0).forEach((_, i, samples) => {
    samples[i] = 0.1 * Math.cos((2 * Math.PI * 441 * i) / sampleRate);
  });
  return { pick: () => ({ buffer, gain: 1, rate: 1 }) };
}
