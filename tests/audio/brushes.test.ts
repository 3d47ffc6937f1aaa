import { describe, expect, it } from 'vitest';
import { FIRST_LINEUP, loadSounds, renderOffline, type Channel } from '../../src/audio/index.ts';
import { Ensemble } from '../../src/audio/band/index.ts';
import { createMixer } from '../../src/audio/mixer/index.ts';
import { Sequencer, Timeline } from '../../src/audio/player/index.ts';
import { brushBed } from '../../src/audio/sounds/brush-bed.ts';
import { beats, bpm, FIRST_MIX, startPerformance, ticks, type NoteSource } from '../../src/engine/index.ts';
import { decibels, peak, rms } from '../helpers/listening.ts';
import { note, sourceOf } from '../helpers/music.ts';
import { planOf, SETTINGS } from '../helpers/plan.ts';

const LINEUP = { ...FIRST_LINEUP, drums: 'brushes' } as const;
const SWIRL = 40;

/** The circling brush of a ballad alone. */
function circles(): NoteSource {
  const settings = { ...SETTINGS, feel: 'ballad', tempo: bpm(66) };
  const plan = planOf('| Ebmaj7 | Cm7 | Fm7 | Bb7 |', { settings });
  const band = startPerformance(plan, { countIn: 0, from: ticks(0) });
  return { notes: (from, to) => band.notes(from, to).filter(({ pitch }) => pitch === SWIRL) };
}

const render = (source: NoteSource, length: number, tail = 0) =>
  renderOffline(source, {
    from: ticks(0),
    to: beats(length),
    tempo: bpm(66),
    tail,
    lineup: LINEUP,
    mix: FIRST_MIX,
  });

describe('the brushes of a ballad', () => {
  it('are one unbroken bed from the first circle on, and a pulse in it', async () => {
    const sound = await render(circles(), 64);
    const levels: number[] = [];
    for (let at = 0.1; at + 0.05 < sound.duration; at += 0.05)
      levels.push(decibels(rms(sound, at, at + 0.05)));
    const sorted = levels.toSorted((a, b) => a - b);
    const middle = sorted[Math.floor(sorted.length / 2)]!;
    expect(middle).toBeGreaterThan(-60);
    expect(sorted[0]!).toBeGreaterThan(middle - 9);
    expect(sorted.at(-1)!).toBeGreaterThan(middle + 2);
    expect(sorted.at(-1)!).toBeLessThan(middle + 10);
  });

  it('begin without a click and die away cleanly after the last circle', async () => {
    const sound = await render(sourceOf([note('drums', SWIRL, 60, 0, 2)]), 2, 3);
    const end = (2 * 60) / 66;
    const loud = peak(sound, 0.05, end);
    expect(decibels(peak(sound, 0, 0.001) / loud)).toBeLessThan(-20);
    expect(decibels(peak(sound, 0, 0.06) / loud)).toBeGreaterThan(-6);
    expect(decibels(rms(sound, end - 0.2, end) / rms(sound, 0.1, 0.3))).toBeGreaterThan(-8);
    expect(decibels(peak(sound, end + 0.9, end + 1.1) / loud)).toBeLessThan(-50);
    expect(peak(sound, end + 2)).toBeLessThan(1e-5);
  });

  it('follow a change of tempo: a circle that sounds is held to its new end', async () => {
    const context = new OfflineAudioContext(2, 6 * 48000, 48000);
    const mixer = await createMixer(context);
    mixer.open(0);
    const output = (channel: Channel) => mixer.input(channel);
    const sounds = await loadSounds(48000, ['brushes']);
    const ensemble = new Ensemble({ context, sounds, output, lineup: LINEUP, seed: 0 });
    const line = new Timeline(0, 0, bpm(120));
    const sequencer = new Sequencer(ensemble, line, sourceOf([note('drums', SWIRL, 60, 0, 4)]), 0);
    sequencer.fill(beats(1), 0);
    void context.suspend(1).then(() => {
      line.setTempo(bpm(40), line.tickAt(1));
      sequencer.again(line.tickAt(1));
      void context.resume();
    });
    const sound = await context.startRendering();
    // Two beats were left: three seconds at 40, where at 120 the circle would have ended after two.
    expect(decibels(rms(sound, 3.5, 3.9) / rms(sound, 1, 1.4))).toBeGreaterThan(-3);
    expect(decibels(rms(sound, 5.2, 5.8) / rms(sound, 1, 1.4))).toBeLessThan(-50);
    ensemble.sweep();
    expect(ensemble.voices.size).toBe(0);
  });

  it('never need more than a few voices, however long they circle', async () => {
    const context = new OfflineAudioContext(1, 60 * 8000, 8000);
    const mixer = await createMixer(context);
    mixer.open(0);
    const output = (channel: Channel) => mixer.input(channel);
    const sounds = await loadSounds(8000, ['brushes']);
    const ensemble = new Ensemble({ context, sounds, output, lineup: LINEUP, seed: 0 });
    const line = new Timeline(0, 0, bpm(66));
    const sequencer = new Sequencer(ensemble, line, circles(), 0);
    const most: number[] = [];
    const step = () => {
      const now = context.currentTime;
      ensemble.sweep();
      sequencer.fill(line.tickAt(now + 1.1), now);
      most.push(ensemble.voices.size);
      if (now + 1 < 60) void context.suspend(now + 1).then(() => (step(), context.resume()));
    };
    step();
    await context.startRendering();
    expect(most.length).toBeGreaterThan(50);
    expect(Math.max(...most)).toBeLessThanOrEqual(6);
  });
});

describe('the bed a brush circles on', () => {
  /** One stroke: noise that swells and falls over 0.6 s. */
  const stroke = () => {
    const sound = new AudioBuffer({ length: 28800, sampleRate: 48000 });
    const samples = sound.getChannelData(0);
    let state = 1;
    samples.forEach((_, i) => {
      state = (state * 16807) % 2147483647;
      samples[i] = Math.sin((Math.PI * i) / 28800) ** 2 * (state / 1073741823.5 - 1) * 0.5;
    });
    return sound;
  };

  it('is steady all round, its end passing into its beginning', () => {
    const bed = brushBed(stroke());
    const whole = rms(bed);
    for (let at = 0; at + 0.1 <= bed.duration; at += 0.1) {
      expect(Math.abs(decibels(rms(bed, at, at + 0.1) / whole)), `${at} s`).toBeLessThan(2);
    }
    const samples = bed.getChannelData(0);
    const around = [...samples.slice(-2400), ...samples.slice(0, 2400)];
    const seam = new AudioBuffer({ length: around.length, sampleRate: 48000 });
    seam.copyToChannel(Float32Array.from(around), 0);
    expect(Math.abs(decibels(rms(seam) / whole))).toBeLessThan(2);
    expect(decibels(whole / peak(stroke()))).toBeGreaterThan(-8);
  });

  it('is the same every time', () => {
    expect(brushBed(stroke()).getChannelData(0)).toEqual(brushBed(stroke()).getChannelData(0));
  });
});
