import { describe, expect, it } from 'vitest';
import { loadSounds } from '../../src/audio/index.ts';
import { takesOf } from '../../src/audio/sounds/takes.ts';
import { randomFor } from '../../src/engine/index.ts';
import { cut, decibels, difference, peak } from '../helpers/listening.ts';

const RATE = 48000;

/** Half a second of a tone. */
function tone(frequency: number): AudioBuffer {
  const sound = new AudioBuffer({ length: RATE / 2, sampleRate: RATE });
  const samples = sound.getChannelData(0);
  samples.forEach((_, i) => (samples[i] = 0.5 * Math.sin((2 * Math.PI * frequency * i) / RATE)));
  return sound;
}

describe('takes of a stroke', () => {
  it('are the stroke a little slower or faster, without a trace of the making', () => {
    for (const frequency of [200, 3000]) {
      const takes = takesOf(tone(frequency));
      expect(takes.length).toBeGreaterThan(2);
      for (const take of takes) {
        const speed = RATE / 2 / take.length;
        expect(Math.abs(speed - 1)).toBeLessThan(0.008);
        expect(Math.abs(speed - 1)).toBeGreaterThan(0.0015);
        const wanted = cut(tone(frequency * speed), 0, 0.4);
        // The length is a whole number of frames: the speed told from it is a little off in the end.
        const off = difference(cut(take, 0.001, 0.05), wanted.slice(48, 2400));
        expect(decibels(off / 0.5), `${frequency} Hz`).toBeLessThan(frequency > 1000 ? -30 : -50);
      }
    }
  });

  it('of a crash are the one recording', () => {
    const crash = new AudioBuffer({ length: 4 * RATE, sampleRate: RATE });
    expect(takesOf(crash)).toEqual([crash]);
  });

  it('change from stroke to stroke of the ride, at the speed they have', async () => {
    const bank = await loadSounds(RATE, ['sticks']);
    const picks = Array.from({ length: 40 }, (_, i) => bank.pick('sticks', 51, randomFor(i, 'ride'))!);
    expect(new Set(picks.map(({ buffer }) => buffer)).size).toBe(4);
    for (const { rate, buffer } of picks) {
      expect(rate).toBe(1);
      expect(peak(buffer)).toBeGreaterThan(0.3);
    }
  });
});
