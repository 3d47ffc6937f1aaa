import { afterEach, describe, expect, it, vi } from 'vitest';
import { INSTRUMENTS, loadSounds, type Instrument, type Progress } from '../../src/audio/index.ts';
import { decode } from '../../src/audio/sounds/decode.ts';
import { entriesOf, RATE, urlOf } from '../../src/audio/sounds/manifest.ts';
import { FEELS, randomFor } from '../../src/engine/index.ts';
import { decibels, peak } from '../helpers/listening.ts';

const fetched = async (instrument: Instrument) => (await fetch(urlOf(instrument))).arrayBuffer();

const addressOf = (request: Parameters<typeof fetch>[0]) =>
  request instanceof Request ? request.url : request.toString();

/** The first frame that is not far below the loudest. */
function onset(buffer: AudioBuffer): number {
  const limit = peak(buffer) / 30;
  return buffer.getChannelData(0).findIndex((x) => Math.abs(x) > limit);
}

afterEach(() => vi.restoreAllMocks());

describe('the sounds', () => {
  it.each(INSTRUMENTS)(
    'of the %s begin where the manifest says, at every rate, to the frame',
    async (instrument) => {
      const entries = entriesOf(instrument);
      const file = await fetched(instrument);
      const [own, other] = await Promise.all(
        [RATE, 48000].map((rate) => decode(file.slice(0), entries, rate)),
      );
      own!.forEach((recording, i) => {
        const loudest = peak(recording.buffer);
        expect(loudest, `key ${recording.key}`).toBeGreaterThan(0.35);
        expect(loudest, `key ${recording.key}`).toBeLessThan(0.75);
        // The first frame is the sound's first audible one: 40 dB below the loudest before encoding.
        const first = peak(recording.buffer, 0, 3 / RATE);
        expect(decibels(first / loudest), `key ${recording.key}`).toBeGreaterThan(-50);
        const late = onset(recording.buffer) / RATE - onset(other![i]!.buffer) / 48000;
        expect(Math.abs(late) * RATE, `key ${recording.key}`).toBeLessThan(2.5);
      });
    },
  );

  it('begin at the same frame whatever delay a decoder leaves in', async () => {
    const entries = entriesOf('click');
    const file = await fetched('click');
    const plain = await decode(file.slice(0), entries, RATE);
    const whole = await new OfflineAudioContext(1, 1, RATE).decodeAudioData(file.slice(0));
    vi.spyOn(OfflineAudioContext.prototype, 'decodeAudioData').mockImplementation(() => {
      const late = new AudioBuffer({ length: whole.length + 1105, sampleRate: whole.sampleRate });
      late.copyToChannel(whole.getChannelData(0), 0, 1105);
      return Promise.resolve(late);
    });
    const delayed = await decode(file.slice(0), entries, RATE);
    delayed.forEach((recording, i) =>
      expect(recording.buffer.getChannelData(0)).toEqual(plain[i]!.buffer.getChannelData(0)),
    );
  });

  it('refuse a file without the pulse that tells the delay', async () => {
    const silence = wav(new Int16Array(44100));
    await expect(decode(silence, entriesOf('click'), RATE)).rejects.toThrow(RangeError);
  });

  it('come with progress, each file once', async () => {
    const seen: Progress[] = [];
    const calls = vi.spyOn(globalThis, 'fetch');
    await Promise.all([
      loadSounds(32000, ['bass', 'click', 'bass'], (progress) => seen.push(progress)),
      loadSounds(32000, ['click']),
    ]);
    const files = calls.mock.calls.map(([request]) => addressOf(request));
    expect(new Set(files).size).toBe(files.length);
    expect(seen[0]).toEqual({ done: 0, total: 2, missing: [] });
    expect(seen.at(-1)).toEqual({ done: 2, total: 2, missing: [] });
  });

  it('that cannot be had are named, do not stop the others, and are tried again', async () => {
    let last: Progress | null = null;
    const real = globalThis.fetch;
    const broken = vi
      .spyOn(globalThis, 'fetch')
      .mockImplementation((request, init) =>
        addressOf(request).includes('guitar')
          ? Promise.reject(new TypeError('offline'))
          : real(request, init),
      );
    const bank = await loadSounds(22050, ['guitar', 'click'], (progress) => (last = progress));
    expect(last).toEqual({ done: 2, total: 2, missing: ['guitar'] });
    expect(bank.loaded).toEqual(['click']);
    broken.mockRestore();
    await loadSounds(22050, ['guitar']);
    expect(bank.loaded).toEqual(['guitar', 'click']);
  });
});

describe('a brush player', () => {
  it('has brushes on the snare, and the cymbals, hats and kick of the kit beside it', async () => {
    const bank = await loadSounds(RATE, ['brushes']);
    const chance = () => randomFor(1, 'takes');
    expect(bank.loaded).toContain('sticks');
    const ballad = FEELS.get('ballad')!.drums.voices.flatMap(({ keys }) => keys);
    for (const key of [...ballad, 36, 44, 51, 49]) {
      const own = bank.pick('brushes', key, chance());
      expect(own, `key ${key}`).not.toBeNull();
      const same = bank.pick('sticks', key, chance())?.buffer === own!.buffer;
      expect(same, `key ${key}`).toBe(![38, 39, 40].includes(key));
    }
  });
});

/** A mono 16-bit WAV file at 44.1 kHz. */
function wav(samples: Int16Array): ArrayBuffer {
  const file = new DataView(new ArrayBuffer(44 + samples.byteLength));
  const text = (at: number, word: string) =>
    [...word].forEach((c, i) => file.setUint8(at + i, c.charCodeAt(0)));
  text(0, 'RIFF');
  file.setUint32(4, 36 + samples.byteLength, true);
  text(8, 'WAVEfmt ');
  file.setUint32(16, 16, true);
  file.setUint16(20, 1, true);
  file.setUint16(22, 1, true);
  file.setUint32(24, 44100, true);
  file.setUint32(28, 88200, true);
  file.setUint16(32, 2, true);
  file.setUint16(34, 16, true);
  text(36, 'data');
  file.setUint32(40, samples.byteLength, true);
  samples.forEach((x, i) => file.setInt16(44 + 2 * i, x, true));
  return file.buffer;
}
