import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createPlayer, FIRST_LINEUP, type Player, type Sounds } from '../../src/audio/index.ts';
import { FIRST_MIX, bpm, midi, ticks, type NoteSource } from '../../src/engine/index.ts';
import { decibels } from '../helpers/listening.ts';
import { loopOf, note } from '../helpers/music.ts';
import { record, type Recorder } from '../helpers/recorder.ts';

const wait = (seconds: number) => new Promise((resolve) => setTimeout(resolve, 1000 * seconds));

/** Every key sounds as a low tone that swells: nothing in it is quick, so that what is quick is a click. */
function swells(sampleRate: number): Sounds {
  const buffer = new AudioBuffer({ length: 8 * sampleRate, sampleRate });
  buffer.getChannelData(0).forEach((_, i, samples) => {
    const swell = 0.5 - 0.5 * Math.cos(Math.PI * Math.min(1, i / (0.06 * sampleRate)));
    samples[i] = 0.1 * swell * Math.sin((2 * Math.PI * 110 * i) / sampleRate);
  });
  return { pick: () => ({ buffer, gain: 1, rate: 1 }) };
}

/** The quickest turn in a sound: the largest second difference between samples. A step of 0.01 is one of 0.01. */
function quickest(sound: Float32Array): number {
  let most = 0;
  for (let i = 2; i < sound.length; i++) {
    most = Math.max(most, Math.abs(sound[i]! - 2 * sound[i - 1]! + sound[i - 2]!));
  }
  return most;
}

/**
 * dB of full scale. Our choice: the music alone has turns of -83 dB, the fade at a stop has -65, and a fader
 * that leapt by steps had -55.
 */
const CLICK = -60;

/** Held chords over a bass, `up` semitones higher. */
const music = (up: number): NoteSource =>
  loopOf(
    [
      ...[52, 58, 62, 65].map((key) => note('comp', key + up, 80, 0, 1.9)),
      ...[0, 1].map((at) => note('bass', midi(36 + up + at), 85, at, 1)),
    ],
    2,
  );

let context: AudioContext;
let recorder: Recorder;
let player: Player;

beforeEach(async () => {
  context = new AudioContext();
  recorder = await record(context);
  player = createPlayer({ context, output: recorder.input, sounds: swells(context.sampleRate) });
});

afterEach(async () => {
  await player.close();
  await context.close();
});

/** What is heard of a second and a half of music, with something done in it again and again. */
async function heard(act: (step: number) => void): Promise<Float32Array> {
  await player.start(music(0), bpm(120), ticks(0));
  await wait(0.3);
  const from = context.currentTime;
  for (let step = 0; step < 8; step++) {
    act(step);
    await wait(0.15);
  }
  const to = context.currentTime - 0.05;
  // What was heard comes from the audio thread by message.
  await wait(0.3);
  const sound = recorder.heard(from, to);
  player.stop();
  await wait(0.15);
  return sound;
}

describe('nothing clicks', () => {
  const strip = (pan: number, mute: boolean, level: number) => ({ pan, mute, level });
  const changes: Record<string, (step: number) => void> = {
    'another key or loop': (step) => player.replace(music(step % 5), ticks(Math.ceil(player.reach()!))),
    'another tempo': (step) => player.setTempo(bpm(step % 2 === 0 ? 180 : 97)),
    'a mix that leaps': (step) =>
      player.setMix({
        ...FIRST_MIX,
        comp: strip(step % 2 === 0 ? -1 : 1, step % 3 === 0, 0.9),
        bass: strip(0, step % 3 === 1, step % 2 === 0 ? 0.2 : 1),
      }),
    'a tone that leaps': (step) =>
      player.setTone({ low: step % 2 === 0 ? 12 : -12, high: step % 2 === 0 ? -12 : 12 }),
    'other instruments': (step) =>
      player.setLineup({ ...FIRST_LINEUP, comp: step % 2 === 0 ? 'piano' : 'guitar' }),
    'a stop and a start': (step) => {
      if (step % 2 === 0) player.stop();
      else void player.start(music(0), bpm(120), ticks(0));
    },
  };

  it.each(Object.entries(changes))('where there comes %s while it plays', async (_name, act) => {
    const changed = await heard(act);
    expect(Math.max(...changed.map(Math.abs)), 'it is heard').toBeGreaterThan(0.05);
    expect(decibels(quickest(changed))).toBeLessThan(CLICK);
    // A step of a hundredth of the music's height would be found.
    const stepped = changed.map((x, i) => (i > changed.length / 2 ? x + 0.003 : x));
    expect(decibels(quickest(stepped))).toBeGreaterThan(CLICK);
  });
});
