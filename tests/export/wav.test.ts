import { describe, expect, it } from 'vitest';
import { wavWriter, type WavDepth } from '../../src/export/wav/index.ts';
import { randomFor } from '../../src/engine/index.ts';

/** A reader of its own: the chunks of a RIFF file, and its samples as factors of full scale. */
function read(file: Uint8Array) {
  const view = new DataView(file.buffer, file.byteOffset, file.byteLength);
  const word = (at: number) => String.fromCharCode(...file.subarray(at, at + 4));
  expect([word(0), word(8)]).toEqual(['RIFF', 'WAVE']);
  expect(view.getUint32(4, true)).toBe(file.length - 8);
  const chunks = new Map<string, DataView>();
  for (let at = 12; at < file.length;) {
    const size = view.getUint32(at + 4, true);
    chunks.set(word(at), new DataView(file.buffer, file.byteOffset + at + 8, size));
    at += 8 + size + (size % 2);
  }
  const format = chunks.get('fmt ')!;
  const channels = format.getUint16(2, true);
  const bits = format.getUint16(14, true);
  const data = chunks.get('data')!;
  const bytes = bits / 8;
  const at = (i: number) => {
    if (bits === 32) return data.getFloat32(4 * i, true);
    if (bits === 16) return data.getInt16(2 * i, true) / 2 ** 15;
    return (data.getInt8(3 * i + 2) * 65536 + data.getUint16(3 * i, true)) / 2 ** 23;
  };
  const samples = Array.from({ length: data.byteLength / bytes }, (_, i) => at(i));
  return {
    chunks,
    tag: format.getUint16(0, true),
    channels,
    bits,
    sampleRate: format.getUint32(4, true),
    bytesASecond: format.getUint32(8, true),
    frameBytes: format.getUint16(12, true),
    channel: (c: number) => samples.filter((_, i) => i % channels === c),
  };
}

function file(depth: WavDepth, channels: readonly Float32Array[], sampleRate = 48000, seed?: number) {
  const count = channels.length as 1 | 2;
  const writer = wavWriter({ channels: count, sampleRate, depth }, channels[0]!.length, seed);
  // In pieces of uneven length, as a render hands them over.
  for (let at = 0, step = 7; at < channels[0]!.length; at += step++) {
    writer.add(channels.map((channel) => channel.subarray(at, at + step)));
  }
  const pieces = writer.end();
  const whole = new Uint8Array(pieces.reduce((sum, piece) => sum + piece.length, 0));
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  return whole;
}

const random = randomFor(7, 'sound');
const noise = (length: number, level = 0.9) =>
  Float32Array.from({ length }, () => level * (2 * random.next() - 1));
const STEP = { 16: 2 ** -15, 24: 2 ** -23 } as const;

describe.each([16, 24, 'float'] as const)('a WAV file of depth %s', (depth) => {
  it.each([
    [1, 44100],
    [2, 48000],
  ] as const)('says what it holds, with %i channels at %i Hz', (count, sampleRate) => {
    const sound = Array.from({ length: count }, () => noise(501));
    const back = read(file(depth, sound, sampleRate));
    const bits = depth === 'float' ? 32 : depth;
    expect(back).toMatchObject({ channels: count, bits, sampleRate });
    expect(back.frameBytes).toBe((count * bits) / 8);
    expect(back.bytesASecond).toBe(back.frameBytes * sampleRate);
    expect(back.tag).toBe({ 16: 1, 24: 0xfffe, float: 3 }[depth]);
    if (depth !== 16) expect(back.chunks.get('fact')!.getUint32(0, true)).toBe(501);
    for (const [c, channel] of sound.entries()) {
      const most = depth === 'float' ? 0 : 1.5 * STEP[depth];
      back.channel(c).forEach((x, i) => expect(Math.abs(x - channel[i]!)).toBeLessThanOrEqual(most));
    }
  });

  it('is the same every time', () => {
    const sound = [noise(100), noise(100)];
    expect(file(depth, sound)).toEqual(file(depth, sound));
  });
});

describe('dither', () => {
  it('leaves an error that is noise of a steady level, whatever the sample between two steps', () => {
    for (const between of [0, 0.25, 0.5, 0.9]) {
      const value = (100 + between) * STEP[16];
      const back = read(file(16, [new Float32Array(40000).fill(value)])).channel(0);
      const errors = back.map((x) => (x - Math.fround(value)) / STEP[16]);
      const mean = errors.reduce((sum, x) => sum + x, 0) / errors.length;
      const power = errors.reduce((sum, x) => sum + x * x, 0) / errors.length;
      // Triangular dither: no bias, and a quarter of a square step of power wherever the sample lies.
      expect(Math.abs(mean)).toBeLessThan(0.02);
      expect(power).toBeCloseTo(0.25, 1);
      expect(Math.max(...errors.map(Math.abs))).toBeLessThanOrEqual(1.5);
    }
  });

  it('keeps a tone that is smaller than a step', () => {
    const tone = Float32Array.from({ length: 48000 }, (_, i) => 0.4 * STEP[16] * Math.sin(i / 10));
    const back = read(file(16, [tone])).channel(0);
    const kept = back.reduce((sum, x, i) => sum + x * tone[i]!, 0) / tone.reduce((sum, x) => sum + x * x, 0);
    expect(kept).toBeCloseTo(1, 1);
  });

  it('is another with another seed, and none in float', () => {
    const sound = [noise(100)];
    expect(file(16, sound, 48000, 1)).not.toEqual(file(16, sound, 48000, 2));
    expect(read(file('float', sound)).channel(0)).toEqual([...sound[0]!]);
  });
});

describe('what is too loud or too long', () => {
  it('is held at full scale', () => {
    const back = read(file(16, [Float32Array.of(1.5, -1.5, 1, -1)])).channel(0);
    expect(Math.max(...back)).toBe(1 - STEP[16]);
    expect(Math.min(...back)).toBe(-1);
  });

  it('is refused, with the length quoted', () => {
    const format = { channels: 2, sampleRate: 48000, depth: 'float' } as const;
    expect(() => wavWriter(format, 2 ** 30)).toThrow(/1073741824/);
    const writer = wavWriter(format, 10);
    writer.add([new Float32Array(9), new Float32Array(9)]);
    expect(() => writer.end()).toThrow(/10.*9/);
  });
});
