import { describe, expect, it } from 'vitest';
import { CEILING_DB, renderOffline } from '../../src/audio/index.ts';
import { Limiter, limiterDelay } from '../../src/audio/mixer/limiter-core.ts';
import { Room } from '../../src/audio/mixer/room-core.ts';
import { createOutput } from '../../src/audio/mixer/output.ts';
import { beats, bpm, randomFor, ticks } from '../../src/engine/index.ts';
import { decibels, difference, peak, truePeak } from '../helpers/listening.ts';
import { loopOf, note, TRIO } from '../helpers/music.ts';

const OPTIONS = { sampleRate: 48000, ceiling: 0.5, lookahead: 0.0015, release: 0.1 };

/** Both channels of a sound through a limiter, in blocks of 128. */
function limit(left: Float32Array<ArrayBuffer>, right = left, options = OPTIONS): AudioBuffer {
  const limiter = new Limiter(options);
  const length = Math.ceil(left.length / 128) * 128;
  const sound = new AudioBuffer({ numberOfChannels: 2, length, sampleRate: options.sampleRate });
  const block = (x: Float32Array, at: number) => Float32Array.from({ length: 128 }, (_, i) => x[at + i] ?? 0);
  for (let at = 0; at < length; at += 128) {
    const [l, r] = [block(left, at), block(right, at)];
    limiter.process(l, r, l, r);
    sound.copyToChannel(l, 0, at);
    sound.copyToChannel(r, 1, at);
  }
  return sound;
}

const sound = (seconds: number, value: (time: number, frame: number) => number) =>
  Float32Array.from({ length: seconds * OPTIONS.sampleRate }, (_, i) => value(i / OPTIONS.sampleRate, i));

describe('the limiter', () => {
  it('lets what stays below the ceiling through unchanged, only later', () => {
    const quiet = sound(0.5, (time) => 0.3 * Math.sin(2 * Math.PI * 440 * time));
    const delay = limiterDelay(OPTIONS);
    const out = limit(quiet).getChannelData(0);
    expect(difference(out.slice(delay), quiet.slice(0, out.length - delay))).toBe(0);
  });

  it.each([
    ['a click', sound(0.2, (_, i) => (i === 4800 ? 4 : 0))],
    ['a burst out of silence', sound(0.4, (t) => (t > 0.2 ? 3 * Math.sin(2 * Math.PI * 997 * t) : 0))],
    [
      'a tone that peaks between samples',
      sound(0.4, (_, i) => 2 * Math.sin((Math.PI / 2) * i + Math.PI / 4)),
    ],
    ['a high tone off the grid', sound(0.4, (t) => 2 * Math.sin(2 * Math.PI * 15000 * t + 0.4))],
    ['noise up to 16 kHz', noise(0.3)],
    ['a swell', sound(0.5, (t) => 4 * t * Math.sin(2 * Math.PI * 80 * t))],
  ])('keeps %s below the ceiling, between samples too', (_, loud) => {
    const out = limit(loud);
    // 0.3 dB is what the mixer keeps in hand for the estimate.
    expect(decibels(truePeak(out) / OPTIONS.ceiling)).toBeLessThan(0.3);
    expect(decibels(peak(out) / OPTIONS.ceiling)).toBeLessThan(0.01);
    expect(peak(out)).toBeGreaterThan(0.3 * OPTIONS.ceiling);
  });

  it('turns both channels down together', () => {
    const loud = sound(0.3, (t) => 2 * Math.sin(2 * Math.PI * 300 * t));
    const out = limit(
      loud,
      loud.map((x) => x / 10),
    );
    const [left, right] = [out.getChannelData(0), out.getChannelData(1)];
    expect(
      difference(
        left,
        right.map((x) => 10 * x),
      ),
    ).toBeLessThan(1e-5);
  });

  it('comes back to full gain after the loud moment', () => {
    const tone = sound(2, (t) => (t < 0.1 ? 8 : 0.5) * 0.5 * Math.sin(2 * Math.PI * 440 * t));
    const out = limit(tone);
    expect(peak(out, 1.8, 2)).toBeGreaterThan(0.249);
  });

  it('keeps the loudest the band can play below the ceiling', async () => {
    const loud = [...TRIO, note('click', 34, 127, 0, 1)].map((one) => ({
      ...one,
      velocity: 127 as typeof one.velocity,
    }));
    const crash = [0, 4].map((at) => note('drums', 49, 127, at, 1));
    const level = { level: 1, mute: false };
    const rendered = await renderOffline(loopOf([...loud, ...loud, ...crash], 8), {
      from: ticks(0),
      to: beats(16),
      tempo: bpm(160),
      mix: { comp: level, bass: level, drums: level, click: level },
      tone: { low: 6, high: 6 },
    });
    expect(decibels(truePeak(rendered))).toBeLessThan(CEILING_DB);
    expect(decibels(truePeak(rendered))).toBeGreaterThan(CEILING_DB - 1.5);
  });

  it('has a stand-in that keeps the ceiling where there is no audio worklet', async () => {
    const context = new OfflineAudioContext(2, 48000, 48000);
    Object.defineProperty(context, 'audioWorklet', { value: undefined });
    const output = await createOutput(context);
    expect(output.delay).toBe(0);
    const source = new OscillatorNode(context, { type: 'square', frequency: 200 });
    const gain = new GainNode(context, { gain: 20 });
    output.connectBand(source.connect(gain));
    output.node.connect(context.destination);
    source.start();
    const rendered = await context.startRendering();
    expect(decibels(peak(rendered))).toBeLessThan(CEILING_DB);
    expect(decibels(peak(rendered))).toBeGreaterThan(CEILING_DB - 2);
  });
});

/** Two hundred tones of chance pitch and phase. */
function noise(level: number) {
  const random = randomFor(7, 'limiter');
  const tones = Array.from({ length: 200 }, () => [100 + 15900 * random.next(), 7 * random.next()] as const);
  return sound(0.3, (t) =>
    tones.reduce((sum, [pitch, phase]) => sum + level * Math.sin(2 * Math.PI * pitch * t + phase), 0),
  );
}

describe('the room', () => {
  /** What the room answers to an impulse in both channels. */
  function answer(sampleRate: number, seconds: number) {
    const room = new Room(sampleRate);
    const length = Math.ceil((seconds * sampleRate) / 128) * 128;
    const out = new AudioBuffer({ numberOfChannels: 2, length, sampleRate });
    for (let at = 0; at < length; at += 128) {
      const input = new Float32Array(128);
      if (at === 0) input[0] = 1;
      const [left, right] = [new Float32Array(128), new Float32Array(128)];
      room.add(input, input, left, right);
      out.copyToChannel(left, 0, at);
      out.copyToChannel(right, 1, at);
    }
    return out;
  }
  const energy = (x: Float32Array) => x.reduce((sum, y) => sum + y * y, 0);

  it.each([44100, 48000, 96000])('answers with the energy it was given, in each ear, at %i Hz', (rate) => {
    const out = answer(rate, 1.5);
    for (const ear of [0, 1])
      expect(Math.abs(10 * Math.log10(energy(out.getChannelData(ear))))).toBeLessThan(1);
  });

  it('is silent for its first nine milliseconds and sixty decibels down after half a second', () => {
    const out = answer(48000, 1.5).getChannelData(0);
    expect(energy(out.slice(0, 440))).toBe(0);
    const fall = energy(out.slice(24000, 28800)) / energy(out.slice(480, 5280));
    expect(10 * Math.log10(fall)).toBeLessThan(-55);
  });

  it('does not sound the same in both ears', () => {
    const out = answer(48000, 0.5);
    const [left, right] = [out.getChannelData(0), out.getChannelData(1)];
    const shared = left.reduce((sum, x, i) => sum + x * right[i]!, 0);
    expect(Math.abs(shared) / Math.sqrt(energy(left) * energy(right))).toBeLessThan(0.4);
  });
});
