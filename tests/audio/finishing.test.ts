import { describe, expect, it } from 'vitest';
import { Finishing } from '../../src/audio/finishing.ts';
import type { Dry, Stereo } from '../../src/audio/render-piece.ts';

const RATE = 48000;
const JOINT = 480;

const largest = (values: Float32Array) => values.reduce((most, x) => Math.max(most, Math.abs(x)), 0);

const both = (make: () => Float32Array<ArrayBuffer>): Stereo => [make(), make()];

/** A piece with frames `from` to `to` of `wave` in the band, and nothing for the room. */
const pieceOf = (wave: (frame: number) => number, from: number, to: number): Dry => ({
  band: both(() => Float32Array.from({ length: to - from }, (_, i) => wave(from + i))),
  send: both(() => new Float32Array(to - from)),
});

/** Pieces of so many frames each, of a sound of `frames`. */
function finished(frames: number, lengths: readonly number[], piece: (from: number, to: number) => Dry) {
  const sound = new AudioBuffer({ numberOfChannels: 2, length: frames, sampleRate: RATE });
  const finishing = new Finishing(sound, JOINT);
  const shares: number[][] = [];
  let from = 0;
  for (const [i, length] of lengths.entries()) {
    const isLast = i === lengths.length - 1;
    const to = isLast ? frames + finishing.delay : from + length + JOINT;
    shares.push([...finishing.add(piece(from, to), isLast)]);
    from += length;
  }
  return { sound: sound.getChannelData(1), shares };
}

describe('pieces of a render', () => {
  const wave = (frame: number) => 0.3 * Math.sin(frame / 50);

  it('are one sound again, to the frame, however they were cut', () => {
    for (const lengths of [[100_000], [40_000, 60_000], [481, 65_536, 33_983], [7000, 493, 92_507]]) {
      const { sound } = finished(100_000, lengths, (from, to) => pieceOf(wave, from, to));
      expect(largest(sound.map((x, i) => x - wave(i))), lengths.join()).toBeLessThan(1e-6);
    }
  });

  it('give way to each other without a step where the one is a frame behind the other', () => {
    let late = 0;
    const { sound } = finished(40_000, [20_000, 20_000], (from, to) => {
      const behind = late++;
      return pieceOf((frame) => wave(frame - behind), from, to);
    });
    // At most the slope of the wave itself, and a little of what lies between the two.
    expect(largest(sound.slice(1).map((x, i) => x - sound[i]!))).toBeLessThan((0.3 / 50) * 1.01);
    expect(sound[19_990]).toBeCloseTo(wave(19_990), 5);
    expect(sound[20_500]).toBeCloseTo(wave(20_499), 5);
  });

  it('ring on in the room across the joint', () => {
    const { sound } = finished(40_000, [20_000, 20_000], (from, to) => {
      const piece = pieceOf(() => 0, from, to);
      if (from === 0) for (const side of piece.send) side[19_900] = 1;
      return piece;
    });
    expect(largest(sound.subarray(0, 19_900))).toBe(0);
    expect(largest(sound.subarray(20_480, 24_000))).toBeGreaterThan(0.01);
  });

  it('say after each chunk how much of them is done', () => {
    const { shares } = finished(100_000, [70_000, 30_000], (from, to) => pieceOf(wave, from, to));
    expect(shares[0]).toEqual([32_768 / 70_000, 65_536 / 70_000, 1]);
    expect(shares[1]).toEqual([1]);
  });
});
