import { describe, expect, it } from 'vitest';
import { FrameClock } from '../../../src/audio/take/frame-clock.ts';

describe('the clock of frames', () => {
  it('goes on by a quantum where the number it is given stands still, and follows where it leaps', () => {
    const clock = new FrameClock();
    const given = [1024, 1152, 1152, 1152, 1152, 1664, 1792, 4096];
    expect(given.map((frame) => clock.next(frame))).toEqual([1024, 1152, 1280, 1408, 1536, 1664, 1792, 4096]);
  });
});
