import { beforeAll, describe, expect, it } from 'vitest';
import {
  CEILING_DB,
  FIRST_LINEUP,
  INSTRUMENTS,
  loadSounds,
  renderOffline,
  type Instrument,
} from '../../src/audio/index.ts';
import { Bank } from '../../src/audio/sounds/index.ts';
import { beats, bpm, ticks, type Mix, type NoteEvent, type Part } from '../../src/engine/index.ts';
import { brightness, centsAbove, cut, decibels, difference, peak, rms } from '../helpers/listening.ts';
import { note, sourceOf } from '../helpers/music.ts';

const RATE = 48000;
/** At 120 a beat lasts half a second. */
const TEMPO = bpm(120);

/** Far below the limiter. */
const QUIET = { fader: 0.25 };

/** Keys from the bottom to the top of what each is asked to play, and its part. */
const FAMILY: Readonly<Record<Instrument, { part: Part; keys: readonly number[]; pitched: boolean }>> = {
  bass: { part: 'bass', keys: [28, 31, 35, 38, 41, 43, 45, 48, 52, 57], pitched: true },
  'electric-piano': { part: 'comp', keys: [48, 53, 56, 60, 64, 67, 70, 73], pitched: true },
  piano: { part: 'comp', keys: [48, 53, 56, 60, 64, 67, 70, 73], pitched: true },
  guitar: { part: 'comp', keys: [43, 48, 52, 57, 60, 65, 69, 74], pitched: true },
  sticks: { part: 'drums', keys: [35, 36, 37, 38, 42, 44, 45, 46, 49, 51, 53, 57, 59], pitched: false },
  brushes: { part: 'drums', keys: [36, 38, 39, 40, 44, 51], pitched: false },
  click: { part: 'click', keys: [31, 33, 34, 37, 76, 77], pitched: false },
};

/** The part alone in the middle. */
function alone(part: Part, fader: number): Mix {
  const level = (which: Part) => ({ level: fader, mute: which !== part, pan: 0 });
  return {
    comp: level('comp'),
    bass: level('bass'),
    drums: level('drums'),
    click: level('click'),
    lead: level('lead'),
  };
}

function play(
  instrument: Instrument,
  list: readonly NoteEvent[],
  length: number,
  { sounds, fader = 1 }: { sounds?: Bank; fader?: number } = {},
) {
  const { part } = FAMILY[instrument];
  return renderOffline(sourceOf(list), {
    from: ticks(0),
    to: beats(length),
    tempo: TEMPO,
    sampleRate: RATE,
    tail: 0,
    mix: alone(part, fader),
    lineup: { ...FIRST_LINEUP, [part]: instrument },
    ...(sounds && { sounds }),
  });
}

/** The first frame at which anything at all sounds. */
const firstSound = (sound: AudioBuffer) => sound.getChannelData(0).findIndex((x) => Math.abs(x) > 1e-7);

beforeAll(async () => {
  await loadSounds(RATE, INSTRUMENTS);
}, 30_000);

describe.each(INSTRUMENTS)('%s', (instrument) => {
  const { part, keys, pitched } = FAMILY[instrument];

  it('is silent before its first note, sounds on the frame asked for, and is quiet after its release', async () => {
    for (const key of keys) {
      const length = pitched ? 1 : 0.5;
      const sound = await play(instrument, [note(part, key, 100, 1, length)], pitched ? 6 : 12);
      expect(peak(sound, 0, 0.4999), `key ${key} before`).toBe(0);
      expect(Math.abs(firstSound(sound) - 0.5 * RATE), `key ${key} onset`).toBeLessThanOrEqual(1);
      expect(decibels(peak(sound, 0.5, 0.7)), `key ${key} sounds`).toBeGreaterThan(-40);
      expect(decibels(peak(sound, sound.duration - 0.2)), `key ${key} after`).toBeLessThan(-80);
    }
  });

  it('is louder with the square of velocity, and brighter', async () => {
    for (const key of keys) {
      const [soft, hard] = await Promise.all(
        [50, 120].map((force) => play(instrument, [note(part, key, force, 0, 2)], 2, QUIET)),
      );
      const [low, high] = [cut(soft!, 0, 0.25), cut(hard!, 0, 0.25)];
      // A soft note is also darker and so loses a little more, most where it is nearly all treble.
      const louder = decibels(rms(hard!, 0, 0.25) / rms(soft!, 0, 0.25));
      expect(louder, `key ${key}`).toBeGreaterThan(2 * decibels(120 / 50) - 1.2);
      expect(louder, `key ${key}`).toBeLessThan(2 * decibels(120 / 50) + 8);
      expect(brightness(high, RATE), `key ${key}`).toBeGreaterThanOrEqual(0.97 * brightness(low, RATE));
    }
    const overall = async (force: number) => {
      const list = keys.map((key, i) => note(part, key, force, i, 0.9));
      return brightness(cut(await play(instrument, list, keys.length, QUIET), 0, keys.length / 2), RATE);
    };
    expect(await overall(120)).toBeGreaterThan(1.05 * (await overall(30)));
  });

  it('dies away', async () => {
    for (const key of keys) {
      const sound = await play(instrument, [note(part, key, 110, 0, 8)], 8);
      expect(rms(sound, 2.5, 3.5), `key ${key}`).toBeLessThan(0.9 * rms(sound, 0, 0.2));
    }
  });

  it('never goes above the ceiling, all keys at once and as hard as can be', async () => {
    const list = keys.map((key) => note(part, key, 127, 0, 2));
    const sound = await play(instrument, [...list, ...list, ...list], 2);
    expect(decibels(peak(sound))).toBeLessThanOrEqual(CEILING_DB);
  });

  it('plays the same note the same way every time, and no two notes alike', async () => {
    const key = keys[2]!;
    const list = [0, 2, 4].map((at) => note(part, key, 90, at, 1));
    const [once, again] = await Promise.all([play(instrument, list, 6), play(instrument, list, 6)]);
    expect(decibels(difference(once.getChannelData(0), again.getChannelData(0)))).toBeLessThan(-110);
    const [first, second, third] = [0, 1, 2].map((at) => cut(once, at, at + 0.2));
    for (const [a, b] of [
      [first, second],
      [second, third],
      [first, third],
    ]) {
      expect(decibels(difference(a!, b!))).toBeGreaterThan(-60);
    }
  });

  it('has a stand-in that sounds on time until its sounds have come', async () => {
    for (const key of keys) {
      const sound = await play(instrument, [note(part, key, 100, 1, 1)], 4, { sounds: new Bank(RATE) });
      expect(Math.abs(firstSound(sound) - 0.5 * RATE), `key ${key} onset`).toBeLessThanOrEqual(1);
      expect(decibels(peak(sound, 0.5, 0.6)), `key ${key} sounds`).toBeGreaterThan(-40);
      if (pitched) expect(Math.abs(centsAbove(key, cut(sound, 0.55, 0.95), RATE))).toBeLessThan(5);
    }
  });
});

describe.each(INSTRUMENTS.filter((instrument) => FAMILY[instrument].pitched))('%s', (instrument) => {
  const { part, keys } = FAMILY[instrument];

  it('sounds within five cents of equal temperament at A4 = 440 Hz', async () => {
    for (const key of keys) {
      const sound = await play(instrument, [note(part, key, 100, 0, 3)], 4);
      expect(Math.abs(centsAbove(key, cut(sound, 0.1, 0.8), RATE)), `key ${key}`).toBeLessThan(5);
    }
  });
});
