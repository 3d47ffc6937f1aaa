import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createPlayer, type Player } from '../../../src/audio/index.ts';
import {
  microphoneOf,
  openMicrophone,
  Recorder,
  type OpenMicrophone,
} from '../../../src/audio/take/index.ts';
import { Tape } from '../../../src/audio/take/tape.ts';
import { beats, bpm, fail, ok, ticks, type NoteSource } from '../../../src/engine/index.ts';
import type { Recorded, RecorderNews } from '../../../src/ui/ports.ts';
import { wavWriter } from '../../../src/export/wav/index.ts';
import { onsets, peak } from '../../helpers/listening.ts';
import { loopOf, note, sourceOf } from '../../helpers/music.ts';
import { pluck } from '../../helpers/plucks.ts';
import { record } from '../../helpers/recorder.ts';
import { impulses } from '../../helpers/sounds.ts';

const wait = (seconds: number) => new Promise((resolve) => setTimeout(resolve, 1000 * seconds));
const FULL = { level: 1, mute: false, pan: 0 };
const CLICKS: NoteSource = loopOf([note('click', 76, 127, 0, 0.1)], 1);

let context: AudioContext;
let player: Player;
/** What leaves the loudspeaker. */
let air: GainNode;

beforeEach(() => {
  context = new AudioContext();
  air = new GainNode(context);
  player = createPlayer({
    context,
    output: air,
    sounds: impulses(context.sampleRate),
    mix: { comp: FULL, bass: FULL, drums: FULL, click: FULL },
  });
});

afterEach(async () => {
  await player.close();
  await context.close();
});

/** A microphone in front of the loudspeaker, `delay` seconds away. */
const inFront =
  (source: AudioNode, delay: number, label = 'Test'): OpenMicrophone =>
  async () => {
    const node = new DelayNode(context, { delayTime: delay, maxDelayTime: 1 });
    source.connect(node);
    return ok({ node, label, latency: null, onlost: null, close: () => source.disconnect(node) });
  };

type Connect = (this: AudioNode, to: AudioNode, ...rest: number[]) => AudioNode;

/** Shows every node that is connected to the loudspeaker, until the test is over. */
function atLoudspeaker(see: (node: AudioNode) => void): void {
  const connect = Object.getOwnPropertyDescriptor(AudioNode.prototype, 'connect')!.value as Connect;
  vi.spyOn(AudioNode.prototype, 'connect').mockImplementation(function (
    this: AudioNode,
    to: AudioNode,
    ...rest: number[]
  ) {
    if (to === context.destination) see(this);
    return connect.call(this, to, ...rest);
  } as never);
}

/** What leaves the loudspeaker when something is measured: the clicks go there directly. */
function loudspeaker(): AudioNode {
  const all = new GainNode(context);
  atLoudspeaker((node) => node instanceof AudioBufferSourceNode && node.connect(all));
  return all;
}

afterEach(() => vi.restoreAllMocks());

function got(result: Awaited<ReturnType<Recorder['end']>>): Recorded {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
}

const samplesOf = async ({ sound }: Recorded) =>
  (await context.decodeAudioData(await sound.arrayBuffer())).getChannelData(0);

describe('a take', () => {
  it('lies on the frames of the music, later by exactly what the sound takes on its way', async () => {
    const recorder = new Recorder(player, inFront(air, 0.05));
    await recorder.open();
    recorder.begin();
    await player.start(CLICKS, bpm(240), beats(-1));
    await wait(1.3);
    player.stop();
    const take = got(await recorder.end());
    const rate = context.sampleRate;
    const found = onsets(await samplesOf(take), 200, 1e-3);
    const lag = (0.05 + player.delay()) * rate;
    expect(found.length).toBeGreaterThanOrEqual(5);
    // The first click of this source comes with tick 0, a beat after the beginning.
    found.forEach((frame, i) => expect(Math.abs(frame - lag - i * 0.25 * rate)).toBeLessThanOrEqual(2));
    expect(take.course[0]).toEqual({ tick: beats(-1), at: 0, tempo: 240 });
    recorder.close();
  });

  it('knows how the music moved when the tempo is changed meanwhile', async () => {
    const recorder = new Recorder(player, inFront(air, 0.02));
    await recorder.open();
    recorder.begin();
    await player.start(CLICKS, bpm(120), ticks(0));
    await wait(0.4);
    player.setTempo(bpm(240));
    await wait(0.4);
    player.setTempo(bpm(200));
    await wait(0.3);
    player.stop();
    const { course } = got(await recorder.end());
    expect(course.map(({ tempo }) => tempo)).toEqual([120, 240, 200]);
    expect(course[1]!.at).toBeCloseTo((course[1]!.tick / beats(1)) * 0.5, 6);
    recorder.close();
  });

  it('is followed: the notes that were played stand in it', async () => {
    const sound = new AudioBuffer({ length: 2 * context.sampleRate, sampleRate: context.sampleRate });
    const keys = [52, 59, 64];
    keys.forEach((key, i) =>
      sound.copyToChannel(
        pluck(key, 0.3, context.sampleRate) as Float32Array<ArrayBuffer>,
        0,
        Math.round((0.3 + 0.4 * i) * context.sampleRate),
      ),
    );
    const guitar = new AudioBufferSourceNode(context, { buffer: sound });
    const recorder = new Recorder(player, inFront(guitar, 0));
    await recorder.open();
    recorder.begin();
    await player.start(CLICKS, bpm(120), ticks(0));
    const begin = player.course()[0]!.time;
    guitar.start(begin);
    await wait(1.7);
    player.stop();
    const { notes } = got(await recorder.end());
    expect(notes.map(({ pitch }) => pitch)).toEqual(keys);
    notes.forEach(({ at }, i) => expect(Math.abs(at - 0.3 - 0.4 * i)).toBeLessThan(0.005));
    recorder.close();
  });

  it('is heard again on its frame with the music, from the middle as from the beginning', async () => {
    const heard = await record(context);
    await player.close();
    player = createPlayer({
      context,
      output: heard.input,
      sounds: impulses(context.sampleRate),
      mix: { comp: FULL, bass: FULL, drums: FULL, click: FULL },
    });
    const recorder = new Recorder(player);
    // A take with a click on every beat at 240, recorded 40 ms late.
    const rate = context.sampleRate;
    const view = new Int16Array(4 * rate);
    for (let beat = 0; beat < 15; beat++) view[Math.round((beat * 0.25 + 0.04) * rate)] = 16000;
    const tape = new Tape(rate);
    tape.push(Float32Array.from(view, (x) => x / 32767));
    await recorder.accompany(tape.wav(), (tick) => (tick / beats(1)) * 0.25 + 0.04);
    for (const from of [0, 2]) {
      await player.start(loopOf([note('click', 76, 127, 0, 0.1)], 2), bpm(240), beats(from));
      const begin = player.course()[0]!.time;
      await wait(1.3);
      player.stop();
      const found = onsets(heard.heard(begin - 0.01, begin + 1.1), 200, 1e-3);
      // Band and take together: one onset a beat, nothing between.
      const first = found[0]!;
      expect(found.length).toBe(5);
      found.forEach((frame, i) => expect(Math.abs(frame - first - i * 0.25 * rate)).toBeLessThanOrEqual(1));
      await wait(0.1);
    }
    recorder.setBalance({ band: 1, guest: 0 });
    await player.start(loopOf([note('click', 76, 127, 0, 0.1)], 2), bpm(240), beats(0));
    const begin = player.course()[0]!.time;
    await wait(1.2);
    player.stop();
    expect(onsets(heard.heard(begin - 0.01, begin + 0.9), 200, 1e-3).length).toBe(2);
  });
});

describe('take and band as one file', () => {
  it('lie together on the frame, the take at its fader, through the limiter', async () => {
    const rate = 48000;
    const tape = new Tape(rate);
    const sound = new Float32Array(2 * rate);
    // A tone of 50 ms a second into the music, recorded 40 ms late.
    for (let i = 0; i < 0.05 * rate; i++) sound[Math.round(1.04 * rate) + i] = 0.5 * Math.sin(i / 8);
    tape.push(sound);
    const recorder = new Recorder(player, openMicrophone, (format, frames) =>
      wavWriter({ ...format, channels: 2 }, frames),
    );
    const mix = async (balance: { band: number; guest: number }) => {
      const file = await recorder.mixdown(tape.wav(), (tick) => (tick / beats(1)) * 0.25 + 0.04, {
        source: sourceOf([note('click', 76, 127, 0, 0.1)]),
        ...{ from: ticks(0), to: beats(8), tempo: bpm(240), tone: { low: 0, high: 0 } },
        ...{ mix: { comp: FULL, bass: FULL, drums: FULL, click: FULL }, balance },
      });
      if (!file.ok) throw new Error(file.error.message);
      const offline = new OfflineAudioContext(2, 1, rate);
      return offline.decodeAudioData(await file.value.arrayBuffer());
    };
    const both = await mix({ band: 1, guest: 1 });
    expect(Math.abs(onsets(both.getChannelData(0), 2000, 0.02).at(-1)! / rate - 1)).toBeLessThan(0.002);
    expect(peak(both)).toBeLessThan(1);
    expect(peak(both, 0, 0.5)).toBeGreaterThan(0.01);
    const alone = await mix({ band: 0, guest: 1 });
    expect(peak(alone, 0, 0.9)).toBeLessThan(1e-6);
    expect(peak(alone, 0.99, 1.06)).toBeGreaterThan(0.1);
    const band = await mix({ band: 1, guest: 0 });
    expect(peak(band, 0.95, 1.1)).toBeLessThan(peak(both, 0.95, 1.1) / 10);
  });
});

describe('the way from loudspeaker to microphone', () => {
  it.each([0.03, 0.18])('of %f s is measured within a millisecond', async (delay) => {
    const recorder = new Recorder(player, inFront(loudspeaker(), delay));
    await recorder.open();
    const measured = await recorder.measure();
    expect(measured.ok).toBe(true);
    if (!measured.ok) return;
    const off = measured.value - player.delay() - delay;
    console.log(`${delay} s: off by ${(1000 * off).toFixed(3)} ms`);
    expect(Math.abs(off)).toBeLessThan(0.001);
    recorder.close();
  });

  it('is said not to be found where nothing comes back', async () => {
    const recorder = new Recorder(player, inFront(new GainNode(context), 0));
    await recorder.open();
    const measured = await recorder.measure();
    expect(measured.ok ? '' : measured.error.message).toMatch(/not found/);
    recorder.close();
  });
});

describe('a microphone', () => {
  it('is asked for raw sound', async () => {
    const ask = vi
      .spyOn(navigator.mediaDevices, 'getUserMedia')
      .mockResolvedValue(new MediaStreamAudioDestinationNode(context).stream);
    expect((await openMicrophone(context)).ok).toBe(true);
    expect(ask.mock.calls).toEqual([
      [{ audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false } }],
    ]);
  });

  it.each([
    ['NotAllowedError', /does not let this page use the microphone/],
    ['NotFoundError', /No microphone was found/],
    ['NotReadableError', /another program may hold it/],
    ['toString', /cannot be used here/],
  ])('that fails with %s is said plainly', async (name, message) => {
    vi.spyOn(navigator.mediaDevices, 'getUserMedia').mockRejectedValue(new DOMException('', name));
    const opened = await openMicrophone(context);
    expect(opened.ok ? '' : opened.error.message).toMatch(message);
    expect(opened.ok ? '' : opened.error.remedy).not.toBe('');
  });

  it('unplugged in the middle of a take ends it, and what was recorded is kept', async () => {
    const stream = new MediaStreamAudioDestinationNode(context);
    air.connect(stream);
    const news: RecorderNews[] = [];
    const recorder = new Recorder(player, async () => ok(microphoneOf(context, stream.stream)));
    recorder.watch((one) => news.push(one));
    await recorder.open();
    recorder.begin();
    await player.start(CLICKS, bpm(240), ticks(0));
    await wait(0.8);
    stream.stream.getAudioTracks()[0]!.dispatchEvent(new Event('ended'));
    expect(news.filter(({ type }) => type === 'ended')).toHaveLength(1);
    player.stop();
    const take = got(await recorder.end());
    expect(take.length).toBeGreaterThan(0.4);
    expect((await recorder.open()).ok).toBe(true);
    recorder.close();
  });

  it('shows its level and says when it is too loud; none of it is ever played', async () => {
    const loud = new ConstantSourceNode(context, { offset: 1 });
    loud.start();
    const out = await record(context);
    const news: RecorderNews[] = [];
    const recorder = new Recorder(player, inFront(loud, 0));
    const into: AudioNode[] = [];
    atLoudspeaker((node) => into.push(node));
    await recorder.open();
    for (const node of into) node.connect(out.input);
    recorder.watch((one) => news.push(one));
    const from = context.currentTime;
    await wait(0.4);
    const level = news.findLast((one) => one.type === 'level');
    expect(level).toEqual({ type: 'level', peak: 1, clipped: true });
    expect(into.length).toBeGreaterThan(0);
    expect(Math.max(...out.heard(from, context.currentTime - 0.1).map(Math.abs))).toBe(0);
    recorder.close();
  });

  it('that is refused leaves everything else as it was', async () => {
    const recorder = new Recorder(player, async () => fail({ message: 'no', remedy: 'yes' }));
    expect(await recorder.open()).toEqual({ ok: false, error: { message: 'no', remedy: 'yes' } });
    await player.start(CLICKS, bpm(120), ticks(0));
    expect(player.position()).not.toBeNull();
  });
});
