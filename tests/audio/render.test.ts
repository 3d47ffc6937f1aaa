import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { renderOffline } from '../../src/audio/index.ts';
import {
  beats,
  bpm,
  FIRST_MIX,
  PPQ,
  ticks,
  type Mix,
  type NoteEvent,
  type NoteSource,
} from '../../src/engine/index.ts';
import { lacking } from '../helpers/lacking.ts';
import { cut, decibels, difference, onsets, peak, rms } from '../helpers/listening.ts';
import { loopOf, note, sourceOf, TRIO } from '../helpers/music.ts';
import { impulses } from '../helpers/sounds.ts';

const DRY: Mix = {
  comp: { level: 1, mute: false, pan: 0 },
  bass: { level: 1, mute: false, pan: 0 },
  drums: { level: 1, mute: false, pan: 0 },
  click: { level: 1, mute: false, pan: 0 },
};

describe('a rendered chorus', () => {
  it.each([
    [44100, 137],
    [48000, 60],
    [48000, 233],
    [96000, 391],
  ])('has each onset within one frame of its place in the note list (%i Hz, %i bpm)', async (rate, tempo) => {
    // Swung and dotted places that fall between frames; the click goes past the room.
    const places = Array.from({ length: 96 }, (_, i) => i * 1.37 + (i % 3) / 7);
    const list = places.map((at) => note('click', 76, 127, at, 0.1));
    const sound = await renderOffline(sourceOf(list), {
      from: ticks(0),
      to: beats(140),
      tempo: bpm(tempo),
      sampleRate: rate,
      mix: DRY,
      sounds: impulses(rate),
    });
    const found = onsets(sound.getChannelData(0), 20, 1e-3);
    expect(found).toHaveLength(list.length);
    list.forEach(({ at }, i) => {
      const wanted = (at / PPQ) * (60 / tempo) * rate;
      expect(Math.abs(found[i]! - wanted), `note ${i}`).toBeLessThanOrEqual(1);
    });
  });

  it('has each onset of sampled bass within one frame, told from the silence between', async () => {
    const list: NoteEvent[] = [28, 36, 41, 47, 52].map((key, i) => note('bass', key, 100, 1.31 + 4 * i, 1));
    const sound = await renderOffline(sourceOf(list), {
      from: ticks(0),
      to: beats(22),
      tempo: bpm(97),
      sampleRate: 48000,
      mix: DRY,
    });
    list.forEach(({ at }) => {
      const wanted = (at / PPQ) * (60 / 97);
      // The room is 60 dB down after half a second and gone, to the bit, after one.
      expect(peak(sound, wanted - 0.1, wanted - 1 / 48000)).toBeLessThan(1e-5);
      const first = cut(sound, wanted - 0.1, wanted + 0.1).findIndex((x) => Math.abs(x) > 2e-5);
      expect(Math.abs(first - 4800)).toBeLessThanOrEqual(1);
    });
  });

  it('follows the tempi its source tells, with each onset on its frame', async () => {
    const list = Array.from({ length: 24 }, (_, i) => note('click', 76, 127, i, 0.1));
    const told = [
      { at: beats(4), tempo: bpm(90) },
      { at: beats(8.5), tempo: bpm(240) },
      { at: beats(16), tempo: bpm(61) },
    ];
    const source = {
      ...sourceOf(list),
      tempi: (from: number, to: number) => told.filter(({ at }) => at >= from && at < to),
    };
    const options = { from: ticks(0), to: beats(24), tempo: bpm(120), mix: DRY, sounds: impulses(48000) };
    const sound = await renderOffline(source, options);
    /** Seconds from the beginning to a beat, added up by hand. */
    const secondsTo = (beat: number) => {
      const steps = [0, 4, 8.5, 16, Infinity];
      return [120, 90, 240, 61].reduce((sum, tempo, i) => {
        const played = Math.min(beat, steps[i + 1]!) - steps[i]!;
        return sum + (Math.max(0, played) * 60) / tempo;
      }, 0);
    };
    const found = onsets(sound.getChannelData(0), 20, 1e-3);
    expect(found).toHaveLength(24);
    found.forEach((frame, beat) => expect(Math.abs(frame - secondsTo(beat) * 48000)).toBeLessThanOrEqual(1));
    expect(sound.duration).toBeCloseTo(secondsTo(24) + 2, 3);
  });

  it('is the same every time, but for the order in which the browser adds up', async () => {
    const options = { from: ticks(0), to: beats(16), tempo: bpm(150) };
    const [a, b] = await Promise.all([1, 2].map(() => renderOffline(loopOf(TRIO, 8), options)));
    for (const channel of [0, 1]) {
      const [one, other] = [a!.getChannelData(channel), b!.getChannelData(channel)];
      expect(decibels(difference(one, other))).toBeLessThan(-110);
    }
  });

  it('lets every stroke ring as it would alone, whatever is struck beside it', async () => {
    const options = { from: ticks(0), to: beats(8), tempo: bpm(150), mix: FIRST_MIX };
    const every = (step: number, key: number) =>
      Array.from({ length: 8 / step }, (_, i) => note('drums', key, 40 + 3 * i, i * step, 0.25));
    // The source has its ride in one channel, its pedalled hi-hat in two.
    const [ride, hat] = [every(0.5, 51), every(0.75, 44)];
    const [both, ...alone] = await Promise.all(
      [[...ride, ...hat], ride, hat].map((list) => renderOffline(sourceOf(list), options)),
    );
    for (const channel of [0, 1]) {
      const [one, other] = alone.map((sound) => sound.getChannelData(channel));
      const sum = one!.map((x, i) => x + other![i]!);
      expect(decibels(difference(both!.getChannelData(channel), sum))).toBeLessThan(-100);
    }
  });

  it('sounds the same where the browser computes blocks of 128 frames only', async () => {
    const options = { from: ticks(0), to: beats(16), tempo: bpm(150) };
    const large = await renderOffline(loopOf(TRIO, 8), options);
    const blocks: unknown[] = [];
    class Untold extends OfflineAudioContext {
      constructor({ numberOfChannels = 1, length, sampleRate }: OfflineAudioContextOptions) {
        super(numberOfChannels, length, sampleRate);
        blocks.push(length);
      }
    }
    vi.stubGlobal('OfflineAudioContext', Untold);
    const small = await renderOffline(loopOf(TRIO, 8), options).finally(() => vi.unstubAllGlobals());
    expect(blocks).toHaveLength(1);
    for (const channel of [0, 1]) {
      const [one, other] = [large.getChannelData(channel), small.getChannelData(channel)];
      expect(decibels(difference(one, other))).toBeLessThan(-80);
    }
  });

  describe('in pieces', () => {
    // The second piece begins amid a chord held over it. Without the bass: of two times on one frame, written
    // as different fractions, a browser may take one for the frame after.
    const held = note('comp', 55, 90, 33, 4);
    const trio = loopOf(TRIO, 8).notes(ticks(0), beats(64));
    const list = [...trio.filter(({ part }) => part !== 'bass'), held];
    const options = { from: ticks(0), to: beats(64), tempo: bpm(150) };
    const made = vi.fn<(seconds: number) => void>();
    /** A render of 27.6 seconds where the machine has so many cores. */
    const renderOn = (cores: number) => {
      vi.spyOn(navigator, 'hardwareConcurrency', 'get').mockReturnValue(cores);
      class Counted extends OfflineAudioContext {
        constructor(of: OfflineAudioContextOptions) {
          super(of);
          made(of.length / of.sampleRate);
        }
      }
      vi.stubGlobal('OfflineAudioContext', Counted);
      return renderOffline(sourceOf(list), options).finally(() => {
        vi.unstubAllGlobals();
        vi.restoreAllMocks();
      });
    };
    beforeEach(() => void made.mockClear());

    it('sounds the same as in one, with the held chord going over from the first to the second', async () => {
      const whole = await renderOn(1);
      expect(made).toHaveBeenCalledTimes(1);
      const joined = await renderOn(4);
      expect(made).toHaveBeenCalledTimes(3);
      expect(joined.length).toBe(whole.length);
      for (const channel of [0, 1]) {
        const [one, other] = [joined.getChannelData(channel), whole.getChannelData(channel)];
        expect(decibels(difference(one, other))).toBeLessThan(-100);
      }
    });

    it('sounds the same where the offline clock cannot be stopped, in pieces no longer than it bears', async () => {
      const whole = await renderOn(1);
      const giveBack = lacking(OfflineAudioContext.prototype, 'suspend');
      const inPieces = await renderOn(1).finally(giveBack);
      expect(made).toHaveBeenCalledTimes(3);
      expect(Math.max(...made.mock.calls.slice(1).flat())).toBeLessThan(20 + 8);
      for (const channel of [0, 1]) {
        const [one, other] = [inPieces.getChannelData(channel), whole.getChannelData(channel)];
        expect(decibels(difference(one, other))).toBeLessThan(-100);
      }
    });

    it('fails as a whole, and at once, when one of them fails', async () => {
      const whole = sourceOf(list);
      let asked = 0;
      const source: NoteSource = {
        notes(from, to) {
          asked++;
          if (from > beats(34)) throw new TypeError('no more notes');
          return whole.notes(from, to);
        },
      };
      vi.spyOn(navigator, 'hardwareConcurrency', 'get').mockReturnValue(2);
      await expect(renderOffline(source, options).finally(() => vi.restoreAllMocks())).rejects.toThrow(
        'no more notes',
      );
      const then = asked;
      await new Promise((resolve) => setTimeout(resolve, 300));
      expect(asked).toBe(then);
    });
  });

  describe('in a browser whose offline clock cannot be stopped', () => {
    const options = { from: ticks(0), to: beats(16), tempo: bpm(150) };
    let giveBack: () => void;
    beforeEach(() => void (giveBack = lacking(OfflineAudioContext.prototype, 'suspend')));
    afterEach(() => giveBack());

    it('says how far it has come, and ends when told to', async () => {
      const shares: number[] = [];
      const ending = new AbortController();
      const onProgress = (share: number) => {
        shares.push(share);
        if (share === 1) ending.abort(new Error('enough'));
      };
      const { signal } = ending;
      await renderOffline(loopOf(TRIO, 8), { ...options, onProgress, signal });
      expect(shares.at(-1)).toBe(1);
      await expect(renderOffline(loopOf(TRIO, 8), { ...options, signal })).rejects.toThrow('enough');
    });
  });

  it('begins at any tick with that tick at frame 0, the count-in too', async () => {
    const list = [note('click', 76, 127, -2, 0.1), note('click', 76, 127, 0, 0.1)];
    const options = { from: beats(-2), to: beats(1), tempo: bpm(120), mix: DRY, sounds: impulses(48000) };
    const sound = await renderOffline(sourceOf(list), options);
    expect(onsets(sound.getChannelData(0), 20, 1e-3)).toEqual([0, 48000]);
  });

  it('is no louder at its start than later on', async () => {
    const options = { from: ticks(0), to: beats(64), tempo: bpm(120), tail: 0 };
    const sound = await renderOffline(loopOf(TRIO, 8), options);
    const rounds = [0, 1, 2, 3, 4, 5, 6, 7].map((round) => 4 * round);
    const [first, ...later] = rounds.map((at) => rms(sound, at, at + 4));
    expect(decibels(first! / Math.max(...later))).toBeLessThan(0.2);
    const [start, ...after] = rounds.map((at) => peak(sound, at, at + 0.5));
    expect(decibels(start! / Math.max(...after))).toBeLessThan(1);
  });

  it('says how far it has come, up to all of it', async () => {
    const shares: number[] = [];
    const options = {
      from: ticks(0),
      to: beats(16),
      tempo: bpm(120),
      onProgress: (s: number) => shares.push(s),
    };
    await renderOffline(sourceOf([]), options);
    expect(shares.at(-1)).toBe(1);
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    expect(shares.length).toBeGreaterThan(5);
  });

  it('refuses an end before its beginning and quotes both', async () => {
    const options = { from: beats(4), to: beats(4), tempo: bpm(120) };
    await expect(renderOffline(sourceOf([]), options)).rejects.toThrow(/80640.*80640/);
  });
});

describe('who ends whom', () => {
  const render = (list: readonly NoteEvent[], length: number) =>
    renderOffline(sourceOf(list), {
      from: ticks(0),
      to: beats(length),
      tempo: bpm(60),
      tail: 0,
      mix: FIRST_MIX,
    });

  it('an open hi-hat is shut by the pedal and by a closed stroke, but not by the ride', async () => {
    const open = note('drums', 46, 110, 0, 1);
    const after = async (...list: NoteEvent[]) => decibels(rms(await render([open, ...list], 2), 1, 1.5));
    const ringing = await after();
    // The closing stroke is soft and over within a quarter of a second.
    expect(await after(note('drums', 44, 20, 0.4, 0.2))).toBeLessThan(ringing - 20);
    expect(await after(note('drums', 42, 20, 0.4, 0.2))).toBeLessThan(ringing - 20);
    expect(await after(note('drums', 51, 1, 0.4, 0.2))).toBeGreaterThan(ringing - 1);
  });

  it('a bass note ends as the next begins, however long it was written', async () => {
    const long = note('bass', 40, 100, 0, 4);
    const level = async (...list: NoteEvent[]) => decibels(rms(await render([long, ...list], 3), 1.3, 2));
    const ringing = await level();
    expect(await level(note('bass', 52, 1, 1, 0.2))).toBeLessThan(ringing - 25);
  });

  it('a chord rings on under another, but a key struck again is one key', async () => {
    const long = note('comp', 60, 100, 0, 4);
    const level = async (...list: NoteEvent[]) => decibels(rms(await render([long, ...list], 3), 1.5, 2));
    const ringing = await level();
    expect(await level(note('comp', 67, 1, 1, 0.2))).toBeGreaterThan(ringing - 0.5);
    expect(await level(note('comp', 60, 1, 1, 0.2))).toBeLessThan(ringing - 25);
  });
});
