import { describe, expect, it } from 'vitest';
import { clicks, CLICKS_LAST, delayOf } from '../../../src/audio/take/latency.ts';
import { randomFor } from '../../../src/engine/index.ts';

/** The clicks as they come back: late, soft, over noise, and through a room with a strong wall. */
function back(rate: number, delay: number, { level = 0.02, noise = 0.001, turned = false, wall = 0.5 } = {}) {
  const sent = clicks(rate, 1);
  const random = randomFor(1, 'noise');
  const heard = Float32Array.from(
    { length: Math.round(CLICKS_LAST * rate) },
    () => noise * (2 * random.next() - 1),
  );
  const late = Math.round(delay * rate);
  const echo = late + Math.round(0.006 * rate);
  sent.forEach((x, i) => {
    if (i + late < heard.length) heard[i + late]! += (turned ? -1 : 1) * level * x;
    if (i + echo < heard.length) heard[i + echo]! += (turned ? -1 : 1) * level * wall * x;
  });
  return heard;
}

describe('the way from loudspeaker to microphone', () => {
  it.each([
    [0.004, 48000],
    [0.0317, 44100],
    [0.123, 48000],
    [0.31, 48000],
  ])('of %f s at %i Hz is found within a millisecond', (delay, rate) => {
    expect(Math.abs(delayOf(back(rate, delay), rate)! - delay)).toBeLessThan(0.001);
  });

  it('is found where the sound comes back upside down, softly, in a noisy room', () => {
    const heard = back(48000, 0.08, { level: 0.004, noise: 0.004, turned: true });
    expect(Math.abs(delayOf(heard, 48000)! - 0.08)).toBeLessThan(0.001);
  });

  it('is not made up where there are no clicks', () => {
    expect(delayOf(back(48000, 0.05, { level: 0, noise: 0.01 }), 48000)).toBeNull();
    expect(delayOf(new Float32Array(Math.round(48000 * CLICKS_LAST)), 48000)).toBeNull();
  });

  it('never sends a click louder than it is asked to', () => {
    const sent = clicks(48000, 0.1);
    expect(Math.max(...sent.map(Math.abs))).toBeLessThanOrEqual(0.1001);
    expect(Math.max(...sent.map(Math.abs))).toBeGreaterThan(0.09);
  });
});
