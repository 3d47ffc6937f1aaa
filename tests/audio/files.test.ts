import { describe, expect, it } from 'vitest';
import { createPlayer, renderFiles, renderOffline, type Encode } from '../../src/audio/index.ts';
import {
  beats,
  bpm,
  FIRST_MIX,
  FLAT,
  PPQ,
  startPerformance,
  ticks,
  type NoteSource,
} from '../../src/engine/index.ts';
import type { SoundRequest } from '../../src/ui/ports.ts';
import { cut, decibels, difference, onsets, peak, rms } from '../helpers/listening.ts';
import { loopOf, note, sourceOf, TRIO } from '../helpers/music.ts';
import { planOf } from '../helpers/plan.ts';
import { impulses } from '../helpers/sounds.ts';

const RATE = 48000;

function asked(source: NoteSource, set: Partial<SoundRequest> = {}): SoundRequest {
  return {
    source,
    from: ticks(0),
    to: beats(8),
    tempo: bpm(120),
    mix: FIRST_MIX,
    tone: FLAT,
    format: { depth: 'float', sampleRate: RATE },
    compressed: null,
    byPart: false,
    ...set,
  };
}

/** Keeps the samples themselves: one channel after the other. */
const raw: Encode = (_, frames) => {
  const sound = [new Float32Array(frames), new Float32Array(frames)] as const;
  let at = 0;
  return {
    add(channels) {
      channels.forEach((channel, c) => sound[c]!.set(channel, at));
      at += channels[0]!.length;
    },
    end: () => [...sound],
  };
};

async function make(request: SoundRequest, watch: Partial<Parameters<typeof renderFiles>[2]> = {}) {
  const { signal } = new AbortController();
  const made = await renderFiles(request, raw, { signal, onProgress: () => {}, ...watch });
  if (made?.ok !== true) return made;
  return Promise.all(
    made.value.map(async ({ part, file, length }) => {
      const samples = new Float32Array(await file.arrayBuffer());
      const frames = samples.length / 2;
      const sound = new AudioBuffer({ numberOfChannels: 2, length: frames, sampleRate: RATE });
      for (const c of [0, 1]) sound.copyToChannel(samples.slice(c * frames, (c + 1) * frames), c);
      return { part, sound, length };
    }),
  );
}

async function files(...all: Parameters<typeof make>) {
  const made = await make(...all);
  if (!Array.isArray(made)) throw new Error(JSON.stringify(made));
  return made;
}

describe('sound files', () => {
  it('by part add up to the file of the whole, each with its own part alone', async () => {
    const source = loopOf(TRIO, 8);
    const [whole] = await files(asked(source));
    const parts = await files(asked(source, { byPart: true }));
    expect(parts.map(({ part }) => part)).toEqual(['comp', 'bass', 'drums']);
    const sum = new Float32Array(whole!.sound.length);
    for (const { sound } of parts) sound.getChannelData(0).forEach((x, i) => (sum[i]! += x));
    const off = difference(whole!.sound.getChannelData(0), sum);
    // Only where the limiter has to catch a peak of the sum do they differ.
    expect(decibels(off / peak(whole!.sound))).toBeLessThan(-10);
    const error = Math.hypot(...sum.map((x, i) => x - whole!.sound.getChannelData(0)[i]!).slice(0, RATE));
    expect(decibels(error / Math.hypot(...sum.slice(0, RATE)))).toBeLessThan(-25);
  });

  it('have the count-in with the click, though the click is muted, and leave out who is not heard', async () => {
    const source = sourceOf([{ ...note('click', 76, 100, -2, 0.1), counts: true }, ...TRIO]);
    const mix = { ...FIRST_MIX, bass: { level: 0.8, mute: true } };
    const made = await files(asked(source, { from: beats(-2), to: beats(2), byPart: true, mix }));
    expect(made.map(({ part }) => part)).toEqual(['comp', 'drums', 'click']);
    const click = made.at(-1)!.sound;
    expect(decibels(peak(click, 0, 0.2))).toBeGreaterThan(-40);
    expect(decibels(peak(click, 0.9))).toBeLessThan(-80);
  });

  it('by part follow the tempi of the whole', async () => {
    const source: NoteSource = {
      ...sourceOf([note('comp', 60, 100, 7, 0.5), note('bass', 40, 90, 7, 1)]),
      tempi: () => [{ at: beats(4), tempo: bpm(60) }],
    };
    const [whole, ...parts] = [
      ...(await files(asked(source))),
      ...(await files(asked(source, { byPart: true }))),
    ];
    expect(whole!.length).toBeCloseTo(4 / 2 + 4 + 3, 2);
    expect(parts.map(({ part, length }) => [part, length])).toEqual([
      ['comp', whole!.length],
      ['bass', whole!.length],
    ]);
    for (const { sound } of parts) {
      expect(decibels(peak(sound, 3, 4.9))).toBeLessThan(-80);
      expect(decibels(peak(sound, 5, 5.2))).toBeGreaterThan(-40);
    }
  });

  it('slow down at the end, hold the last chord, and fade to nothing', async () => {
    const plan = planOf('| Dm7 | G7 | Cmaj7 | Cmaj7 |');
    const open = startPerformance(plan, { countIn: 1, from: ticks(0) });
    const end = open.finish(ticks(0));
    const request = asked(end, { from: end.begin, to: end.end!, tempo: plan.settings.tempo });
    const { sound, length } = (await files(request))[0]!;
    const inTime = ((end.end! - end.begin) / PPQ) * (60 / plan.settings.tempo);
    expect(length).toBeCloseTo(inTime + 3, 2);
    const last = Math.max(...end.notes(end.begin, end.end!).map(({ at }) => at));
    const struck = ((last - end.begin) / PPQ) * (60 / plan.settings.tempo);
    expect(decibels(rms(sound, struck + 0.5, struck + 1))).toBeGreaterThan(-45);
    expect(peak(sound, length - 0.001)).toBeLessThan(1e-5);
  });

  it('say how far they have come, evenly up to all of it', async () => {
    const shares: number[] = [];
    await files(asked(loopOf(TRIO, 8), { byPart: true }), { onProgress: (share) => shares.push(share) });
    expect(shares).toEqual(shares.toSorted((a, b) => a - b));
    expect(shares.at(-1)).toBe(1);
  });

  it('are called off at once, and nothing comes of them', async () => {
    const work = new AbortController();
    const request = asked(loopOf(TRIO, 8), { to: beats(4 * 600) });
    let reported = 0;
    const made = await make(request, {
      signal: work.signal,
      onProgress() {
        if (++reported === 3) work.abort();
      },
    });
    expect(made).toBeNull();
    expect(reported).toBe(3);
  });

  it('that would not fit the device fail with what to do', async () => {
    const made = await make(asked(loopOf(TRIO, 8), { to: ticks(40_000_000_000) }));
    expect(made).toMatchObject({ ok: false, error: { remedy: expect.stringContaining('rounds') as string } });
  });

  it('of music that cannot say its notes are rejected, not hung', async () => {
    const source: NoteSource = {
      notes(from) {
        if (from > beats(4)) throw new TypeError('no more notes');
        return [];
      },
    };
    await expect(make(asked(source))).rejects.toThrow('no more notes');
  });

  it('can be made while the band plays, whose mixer goes on working', async () => {
    const context = new AudioContext();
    const player = createPlayer({ context, sounds: impulses(context.sampleRate) });
    await player.start(loopOf(TRIO, 8), bpm(120), ticks(0));
    await files(asked(loopOf(TRIO, 8)));
    player.setTone({ low: 3, high: -3 });
    player.setMix({ ...FIRST_MIX, bass: { level: 0.1, mute: false } });
    expect(player.position()).not.toBeNull();
    await player.close();
    await context.close();
  });
});

describe('a render of music with many tempi', () => {
  it('has every onset where the tempi before it put it', async () => {
    const tempi = Array.from({ length: 40 }, (_, i) => ({ at: beats(2 * i), tempo: bpm(80 + 5 * i) }));
    const list = Array.from({ length: 80 }, (_, i) => note('click', 76, 127, i, 0.1));
    const source: NoteSource = {
      ...sourceOf(list),
      tempi: (from, to) => tempi.filter(({ at }) => at >= from && at < to),
    };
    const sound = await renderOffline(source, {
      from: ticks(0),
      to: beats(80),
      tempo: bpm(80),
      sounds: impulses(RATE),
      mix: { ...FIRST_MIX, click: { level: 1, mute: false } },
    });
    let time = 0;
    const wanted = list.map((_, i) => {
      const now = time;
      time += 60 / tempi[Math.floor(i / 2)]!.tempo;
      return Math.round(now * RATE);
    });
    const found = onsets(cut(sound, 0, sound.duration), 20, 1e-3);
    expect(found).toHaveLength(80);
    found.forEach((frame, i) => expect(Math.abs(frame - wanted[i]!)).toBeLessThanOrEqual(1));
    expect(sound.duration).toBeCloseTo(time + 2, 2);
  });
});
