import { describe, expect, it } from 'vitest';
import { CEILING_DB, TARGET_LUFS } from '../../src/audio/index.ts';
import { gainFor, LoudnessMeter, mastered } from '../../src/audio/master/index.ts';
import { randomFor } from '../../src/engine/index.ts';
import { decibels, loudness, truePeak } from '../helpers/listening.ts';

/** A tone of 1 kHz in both channels, its level changing: seconds and dB of full scale. */
function tone(sampleRate: number, levels: readonly (readonly [number, number])[]): AudioBuffer {
  const samples = levels.flatMap(([seconds, level]) =>
    Array.from({ length: seconds * sampleRate }, () => 10 ** (level / 20)),
  );
  return buffer(
    sampleRate,
    Float32Array.from(samples, (level, i) => level * Math.sin((2 * Math.PI * 1000 * i) / sampleRate)),
  );
}

function buffer(sampleRate: number, left: Float32Array<ArrayBuffer>, right = left): AudioBuffer {
  const sound = new AudioBuffer({ numberOfChannels: 2, length: left.length, sampleRate });
  sound.copyToChannel(left, 0);
  sound.copyToChannel(right, 1);
  return sound;
}

function measured(sound: AudioBuffer): number {
  const meter = new LoudnessMeter(sound.sampleRate);
  meter.add(sound.getChannelData(0), sound.getChannelData(1));
  return meter.integrated;
}

/** What leaves the master, as one sound. */
function through(sound: AudioBuffer, gain: number): AudioBuffer {
  const pieces = [...mastered(sound, gain)];
  const [left, right] = [0, 1].map((c) => {
    const all = new Float32Array(pieces.reduce((sum, piece) => sum + piece[0].length, 0));
    let at = 0;
    for (const piece of pieces) {
      all.set(piece[c as 0 | 1], at);
      at += piece[0].length;
    }
    return all;
  });
  return buffer(sound.sampleRate, left!, right);
}

const random = randomFor(3, 'master');
const noise = (seconds: number, level: number) =>
  Float32Array.from({ length: seconds * 48000 }, () => level * (2 * random.next() - 1));
const noPause = () => Promise.resolve();

/** The first four cases of EBU Tech 3341 (from memory): tones whose loudness is known. */
describe.each([44100, 48000])('the loudness meter at %i Hz', (rate) => {
  it.each([
    ['a tone at -23 dB', [[20, -23]], -23],
    ['a tone at -33 dB', [[20, -33]], -33],
    ['a tone between quieter ones', [...[[10, -36]], ...[[20, -23]], ...[[10, -36]]], -23],
    [
      'the same between all but silence',
      [
        [5, -72],
        [5, -36],
        [20, -23],
        [5, -36],
        [5, -72],
      ],
      -23,
    ],
  ] as const)('has %s as loud as it is', (_, levels, wanted) => {
    expect(Math.abs(measured(tone(rate, levels)) - wanted)).toBeLessThan(0.1);
  });
});

describe('the loudness meter', () => {
  it('hears bass, middle and treble as the table of the standard does', () => {
    for (const frequency of [40, 200, 1000, 4000, 12000]) {
      const samples = Float32Array.from(
        { length: 4 * 48000 },
        (_, i) => 0.1 * Math.sin((2 * Math.PI * frequency * i) / 48000),
      );
      const sound = buffer(48000, samples);
      expect(measured(sound), `${frequency} Hz`).toBeCloseTo(loudness(sound), 1);
    }
  });

  it('says nothing of silence', () => {
    expect(measured(buffer(48000, new Float32Array(48000)))).toBe(-Infinity);
  });
});

describe('the master', () => {
  it.each([
    ['far too soft', noise(6, 0.01)],
    ['far too loud', noise(6, 0.99)],
    ['soft with a few high peaks', noise(6, 0.02).map((x, i) => (i % 30000 === 0 ? 0.9 : x))],
  ])('brings what is %s to the target, below the ceiling, frame for frame', async (_, samples) => {
    const sound = buffer(48000, samples);
    const out = through(sound, await gainFor(sound, noPause));
    expect(out.length).toBe(sound.length);
    expect(Math.abs(measured(out) - TARGET_LUFS)).toBeLessThan(0.3);
    expect(decibels(truePeak(out))).toBeLessThan(CEILING_DB);
  });

  it('keeps every sample in its place where nothing has to be limited', () => {
    const sound = buffer(48000, noise(3, 0.1));
    const out = through(sound, 2);
    const [before, after] = [sound.getChannelData(0), out.getChannelData(0)];
    before.forEach((x, i) => expect(after[i]).toBe(Math.fround(2 * x)));
  });

  it('leaves silence alone', async () => {
    expect(await gainFor(buffer(48000, new Float32Array(48000)), noPause)).toBe(1);
  });
});
