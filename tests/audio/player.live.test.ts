import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  createPlayer,
  FIRST_LINEUP,
  type Player,
  type PlayerOptions,
  type PlayerState,
} from '../../src/audio/index.ts';
import { beats, bpm, midi, PPQ, ticks, type NoteEvent, type NoteSource } from '../../src/engine/index.ts';
import { decibels, onsets } from '../helpers/listening.ts';
import { loopOf, note, sourceOf, TRIO } from '../helpers/music.ts';
import { record, type Recorder } from '../helpers/recorder.ts';
import { drones, impulses } from '../helpers/sounds.ts';

/** A note as it was given to the audio clock: when it is due, and the clock's time at that moment. */
interface Scheduled {
  readonly note: NoteEvent;
  readonly when: number;
  readonly now: number;
}

const wait = (seconds: number) => new Promise((resolve) => setTimeout(resolve, 1000 * seconds));
/** Keeps the page busy, so that nothing else on it runs. */
function block(seconds: number) {
  const end = performance.now() + 1000 * seconds;
  while (performance.now() < end);
}

const FULL = { level: 1, mute: false, pan: 0 };

let context: AudioContext;
let recorder: Recorder;
let player: Player;
let scheduled: Scheduled[];
let cancelled: Scheduled[];

function make(options: PlayerOptions = {}) {
  player = createPlayer({
    context,
    output: recorder.input,
    sounds: impulses(context.sampleRate),
    mix: { comp: FULL, bass: FULL, drums: FULL, click: FULL },
    observer: {
      onSchedule: (one, when) => scheduled.push({ note: one, when, now: context.currentTime }),
      onCancel: (one, when) => cancelled.push({ note: one, when, now: context.currentTime }),
    },
    ...options,
  });
}

/** Another player in the place of the test's own. */
async function remake(options: PlayerOptions) {
  await player.close();
  make(options);
}

beforeEach(async () => {
  context = new AudioContext();
  recorder = await record(context);
  [scheduled, cancelled] = [[], []];
  make();
});

afterEach(async () => {
  await player.close();
  await context.close();
});

/** What was scheduled and not taken back, in order of time. */
const standing = () => {
  const left = [...scheduled];
  for (const one of cancelled) {
    const at = left.findLastIndex((other) => other.note === one.note && other.when === one.when);
    expect(at, 'only what was scheduled is taken back').toBeGreaterThanOrEqual(0);
    left.splice(at, 1);
  }
  return left.toSorted((a, b) => a.when - b.when || a.note.pitch - b.note.pitch);
};

/** Clicks on every beat. */
const BEATS = loopOf([note('click', 76, 127, 0, 0.1)], 1);
const CLICKS: readonly NoteEvent[] = [0, 1, 2, 3].map((at) => note('click', 76, 127, at, 0.1));

const name = ({ at, pitch, part }: NoteEvent) => `${part} ${pitch} at ${at / PPQ}`;

describe('a player', () => {
  it('plays each note of the list once, on its frame, from the first beat on', async () => {
    await player.start(loopOf(CLICKS, 4), bpm(240), ticks(0));
    const begin = scheduled[0]!.when;
    await wait(1.6);
    player.stop();
    await wait(0.2);
    // The gate shuts at stop: the last click may be lost in the fade.
    const sound = recorder.heard(begin - 0.05, begin + 1.2);
    const delay = 0.05 * context.sampleRate;
    const found = onsets(sound, 200, 1e-3);
    expect(found.length).toBe(5);
    const latency = found[0]! - delay;
    expect(latency).toBeLessThan(0.003 * context.sampleRate);
    found.forEach((frame, i) =>
      expect(Math.abs(frame - found[0]! - i * 0.25 * context.sampleRate)).toBeLessThanOrEqual(1),
    );
  });

  it('counts in from before the first tick', async () => {
    await player.start(BEATS, bpm(240), beats(-4));
    expect(scheduled[0]!.note.at).toBe(beats(-4));
    expect(player.position()!).toBeLessThan(beats(-3.5));
  });

  it('keeps three quarters of a second or more on the audio clock', async () => {
    await player.start(
      loopOf(
        [0, 0.25, 0.5, 0.75].map((at) => note('click', 76, 90, at, 0.1)),
        1,
      ),
      bpm(240),
      ticks(0),
    );
    const ahead: number[] = [];
    for (let i = 0; i < 20; i++) {
      await wait(0.03);
      ahead.push(scheduled.at(-1)!.when - context.currentTime);
    }
    // The last note in the window may lie up to one note, 62 ms, before its end.
    expect(Math.min(...ahead)).toBeGreaterThan(0.75);
  });

  it.each([0.3, 0.5])('has no onset late when the page is blocked for %f s', async (blocked) => {
    const source = loopOf(
      [0, 0.5].map((at) => note('click', 76, 127, at, 0.1)),
      1,
    );
    await player.start(source, bpm(240), ticks(0));
    const begin = scheduled[0]!.when;
    await wait(0.4);
    block(blocked);
    await wait(0.1);
    block(blocked);
    await wait(0.3);
    const end = context.currentTime;
    player.stop();
    await wait(0.1);
    for (const { note: one, when, now } of scheduled) {
      expect(when - now, name(one)).toBeGreaterThan(0);
      const due = begin + (one.at / PPQ) * 0.25;
      expect(Math.abs(when - due) * context.sampleRate, name(one)).toBeLessThanOrEqual(0.51);
    }
    const sound = recorder.heard(begin, end - 0.05);
    const found = onsets(sound, 200, 1e-3);
    const wanted = Math.floor((sound.length - 1 - found[0]!) / (0.125 * context.sampleRate)) + 1;
    expect(found).toHaveLength(wanted);
    found.forEach((frame, i) =>
      expect(Math.abs(frame - found[0]! - i * 0.125 * context.sampleRate)).toBeLessThanOrEqual(1),
    );
  });

  it('knows where it is, to what is heard', async () => {
    await player.start(BEATS, bpm(120), ticks(0));
    const begin = scheduled[0]!.when;
    await wait(0.7);
    const late = context.currentTime - begin - (player.position()! / PPQ) * 0.5;
    expect(late).toBeGreaterThan(0);
    expect(late).toBeLessThan((context.outputLatency || context.baseLatency) + 0.02);
    expect(player.reach()! - player.position()!).toBeGreaterThan(0);
    player.stop();
    expect(player.position()).toBe(null);
    expect(player.reach()).toBe(null);
  });

  it('knows how fast it goes, from the moment a tempo is heard', async () => {
    expect(player.speed()).toBe(0);
    const tempi = [{ at: beats(0.5), tempo: bpm(240) }];
    await player.start(
      { ...BEATS, tempi: (from, to) => tempi.filter(({ at }) => at >= from && at < to) },
      bpm(120),
      ticks(0),
    );
    expect(player.speed()).toBe(2 * PPQ);
    await expect.poll(() => player.position()!).toBeGreaterThan(beats(0.5));
    expect(player.speed()).toBe(4 * PPQ);
    await context.suspend();
    expect(player.speed()).toBe(0);
    await context.resume();
    player.stop();
    expect(player.speed()).toBe(0);
  });

  it('gives back every voice at stop, and is silent at once', async () => {
    await remake({ sounds: drones(context.sampleRate) });
    await player.start(loopOf(TRIO, 8), bpm(200), ticks(0));
    await wait(0.6);
    expect(player.voices()).toBeGreaterThan(10);
    const stopped = context.currentTime;
    player.stop();
    await wait(0.4);
    expect(player.voices()).toBe(0);
    const after = recorder.heard(stopped + 0.1, stopped + 0.3);
    expect(decibels(Math.max(...after.map(Math.abs)))).toBeLessThan(-100);
    const before = recorder.heard(stopped - 0.2, stopped - 0.01);
    expect(decibels(Math.max(...before.map(Math.abs)))).toBeGreaterThan(-30);
  });

  it('sounds a single note while nothing plays, and lets it die away', async () => {
    await remake({ sounds: drones(context.sampleRate) });
    const from = context.currentTime;
    await player.audition(midi(64));
    await wait(0.5);
    const heard = recorder.heard(from, from + 0.5);
    expect(decibels(Math.max(...heard.map(Math.abs)))).toBeGreaterThan(-30);
    expect(player.position()).toBeNull();
    await wait(2);
    const after = recorder.heard(context.currentTime - 0.2, context.currentTime);
    expect(decibels(Math.max(...after.map(Math.abs)))).toBeLessThan(-60);
  });

  it('starts afresh when started while playing, with nothing left of before', async () => {
    await remake({ sounds: drones(context.sampleRate) });
    await player.start(sourceOf([note('comp', 60, 127, 0, 40)]), bpm(120), ticks(0));
    await wait(0.4);
    const again = context.currentTime;
    await player.start(sourceOf([note('comp', 60, 127, 1, 8)]), bpm(120), ticks(0));
    await wait(0.5);
    expect(player.voices()).toBe(1);
    const between = recorder.heard(again + 0.09, again + 0.45);
    expect(decibels(Math.max(...between.map(Math.abs)))).toBeLessThan(-80);
  });

  it('can be stopped before it has begun', async () => {
    const starting = player.start(BEATS, bpm(120), ticks(0));
    player.stop();
    await starting;
    await wait(0.2);
    expect(player.position()).toBe(null);
    expect(scheduled).toHaveLength(0);
  });

  it('says what it is doing', async () => {
    const seen: PlayerState['type'][] = [];
    const end = player.watch((state) => seen.push(state.type));
    await player.start(BEATS, bpm(120), ticks(0));
    player.stop();
    end();
    await player.start(BEATS, bpm(120), ticks(0));
    expect(seen).toEqual(['idle', 'playing', 'idle']);
  });

  it('loads its own sounds, says how far they have come, and plays with what is there', async () => {
    await player.close();
    player = createPlayer({ context, output: recorder.input, lineup: { ...FIRST_LINEUP, comp: 'guitar' } });
    const seen: PlayerState[] = [];
    player.watch((state) => seen.push(state));
    const called = performance.now();
    await player.start(loopOf(TRIO, 8), bpm(120), ticks(0));
    expect(performance.now() - called).toBeLessThan(5000);
    expect(seen.at(-1)).toEqual({ type: 'playing' });
    const loading = seen.filter((state) => state.type === 'loading');
    for (const { done, total } of loading) expect(done).toBeLessThan(total);
    const begin = context.currentTime;
    await wait(0.5);
    const heard = recorder.heard(begin + 0.1, begin + 0.4);
    expect(decibels(Math.max(...heard.map(Math.abs)))).toBeGreaterThan(-50);
  });
});

describe('a change while it plays', () => {
  it('takes back what has not sounded and puts the new in its place: nothing doubled, lost or stuck', async () => {
    const before = loopOf(TRIO, 8);
    const after = loopOf(
      TRIO.map((one) => ({ ...one, pitch: (one.pitch + 1) as typeof one.pitch })),
      8,
    );
    await player.start(before, bpm(300), ticks(0));
    const begin = scheduled[0]!.when;
    await wait(0.5);
    const bar = beats(4 * Math.ceil(player.reach()! / PPQ / 4));
    player.replace(after, bar);
    await wait(0.6);
    const third = beats(4 * Math.ceil(player.reach()! / PPQ / 4));
    player.replace(before, third);
    await wait(0.6);
    const kept = standing();
    const last = kept.at(-1)!.note.at;
    const wanted = [
      ...before.notes(ticks(0), bar),
      ...after.notes(bar, third),
      ...before.notes(third, ticks(last + 1)),
    ];
    const sorted = (list: readonly NoteEvent[]) => list.map(name).toSorted();
    expect(sorted(kept.map((one) => one.note))).toEqual(sorted(wanted));
    for (const { note: one, when } of kept) {
      expect(Math.abs(when - begin - (one.at / PPQ) * 0.2) * context.sampleRate).toBeLessThanOrEqual(0.51);
    }
    for (const { when, now } of cancelled) expect(when).toBeGreaterThan(now);
    expect(cancelled.length).toBeGreaterThan(10);
  });

  it('is heard on the beat when it comes a tenth of a second before it', async () => {
    const other = loopOf([note('click', 77, 127, 0, 0.1)], 1);
    const tempo = 150;
    await player.start(BEATS, bpm(tempo), ticks(0));
    const begin = scheduled[0]!.when;
    await wait(0.5);
    // The first beat that can be caught with a little more than a tenth of a second to go.
    const next = () => Math.ceil(((context.currentTime + 0.1 - begin) * tempo) / 60);
    const timeOf = (which: number) => begin + (which * 60) / tempo;
    while (timeOf(next()) - context.currentTime > 0.12) await wait(0.001);
    const beat = next();
    const due = timeOf(beat);
    expect(due - context.currentTime).toBeGreaterThanOrEqual(0.1);
    expect(player.reach()!).toBeLessThanOrEqual(beats(beat));
    player.replace(other, beats(beat));
    await wait(0.3);
    const there = standing().filter((one) => one.note.at === beats(beat));
    expect(there.map((one) => one.note.pitch)).toEqual([77]);
    expect(Math.abs(there[0]!.when - due) * context.sampleRate).toBeLessThanOrEqual(0.51);
    const heard = onsets(recorder.heard(due - 0.02, due + 0.02), 50, 1e-3);
    expect(heard).toHaveLength(1);
    expect(Math.abs(heard[0]! - 0.02 * context.sampleRate)).toBeLessThan(0.003 * context.sampleRate);
  });

  it('asked for too late takes effect from the earliest tick it can reach', async () => {
    await player.start(BEATS, bpm(240), ticks(0));
    await wait(0.7);
    const reach = player.reach()!;
    player.replace(sourceOf([]), ticks(0));
    const left = standing().map((one) => one.note.at);
    expect(Math.max(...left)).toBeLessThan(reach + beats(0.2));
    expect(left).toContain(0);
    expect(left.length).toBeGreaterThan(1);
  });

  it('cuts a chord that rings across where the new music has it end', async () => {
    await remake({ sounds: drones(context.sampleRate) });
    const long = (length: number) => sourceOf([note('comp', 60, 127, 0, length)]);
    const levelAt = async (replacement: NoteSource) => {
      await player.start(long(40), bpm(120), ticks(0));
      const begin = scheduled.at(-1)!.when;
      await wait(0.3);
      player.replace(replacement, beats(1));
      await wait(1.1);
      const level = (from: number) =>
        decibels(Math.max(...recorder.heard(begin + from, begin + from + 0.1).map(Math.abs)));
      const result = [level(0.35), level(1.2)];
      player.stop();
      await wait(0.1);
      return result as [number, number];
    };
    const [sounding, kept] = await levelAt(long(40));
    expect(kept).toBeCloseTo(sounding, 0);
    expect((await levelAt(long(1.5)))[1]).toBeLessThan(sounding - 12);
    const [before, gone] = await levelAt(sourceOf([]));
    expect(before).toBeCloseTo(sounding, 0);
    expect(gone).toBeLessThan(sounding - 20);
  });

  it('lets a bass note ring on when the note that was to end it is taken back', async () => {
    await remake({ sounds: drones(context.sampleRate) });
    const first = note('bass', 40, 127, 0, 8);
    await player.start(sourceOf([first, note('bass', 43, 127, 1, 1)]), bpm(120), ticks(0));
    const begin = scheduled[0]!.when;
    await wait(0.2);
    player.replace(sourceOf([first]), beats(1));
    await wait(0.9);
    const heard = recorder.heard(begin + 0.7, begin + 0.9);
    expect(decibels(Math.max(...heard.map(Math.abs)))).toBeGreaterThan(-25);
  });

  it('of tempo is heard at once and keeps every note in its place', async () => {
    await player.start(BEATS, bpm(120), ticks(0));
    await wait(0.7);
    const reach = player.reach()!;
    player.setTempo(bpm(300));
    await wait(0.8);
    const kept = standing();
    expect(kept.map((one) => one.note.at)).toEqual(kept.map((_, i) => beats(i)));
    const gaps = kept.slice(1).map((one, i) => [kept[i]!.note.at, one.when - kept[i]!.when] as const);
    for (const [at, gap] of gaps) {
      const slow = at + PPQ <= reach;
      const fast = at >= reach;
      if (slow) expect(gap).toBeCloseTo(0.5, 3);
      else if (fast) expect(gap).toBeCloseTo(0.2, 3);
      else expect(gap).toBeGreaterThan(0.2);
    }
    expect(gaps.filter(([at]) => at >= reach).length).toBeGreaterThan(2);
  });

  it('of tempo that the music tells comes at its tick, also after the music was changed', async () => {
    const told = (tempo: number) => ({
      ...BEATS,
      tempi: (from: number, to: number) =>
        from <= beats(3) && beats(3) < to ? [{ at: beats(3), tempo: bpm(tempo) }] : [],
    });
    await player.start(told(200), bpm(300), ticks(0));
    await wait(0.15);
    player.replace(told(240), ticks(Math.ceil(player.reach()!) + 1));
    await wait(1.2);
    const kept = standing();
    expect(kept.map((one) => one.note.at)).toEqual(kept.map((_, i) => beats(i)));
    kept.slice(1).forEach((one, i) => {
      expect(one.when - kept[i]!.when).toBeCloseTo(i < 3 ? 60 / 300 : 60 / 240, 4);
    });
    expect(kept.length).toBeGreaterThan(5);
  });

  it('of instruments is heard from the next notes on', async () => {
    await player.start(loopOf(TRIO, 8), bpm(200), ticks(0));
    await wait(0.3);
    const before = standing().length;
    player.setLineup({ ...FIRST_LINEUP, comp: 'piano' });
    expect(cancelled.length).toBeGreaterThan(5);
    expect(standing().length).toBe(before);
  });
});

describe('when the clock stands still', () => {
  it('goes on in time, with nothing lost or bunched, when sound is held up for a moment', async () => {
    await player.start(BEATS, bpm(240), ticks(0));
    const begin = scheduled[0]!.when;
    await wait(0.3);
    await context.suspend();
    await wait(0.3);
    await context.resume();
    await wait(0.5);
    const kept = standing();
    expect(kept.map((one) => one.note.at)).toEqual(kept.map((_, i) => beats(i)));
    for (const { note: one, when } of kept) {
      expect(Math.abs(when - begin - (one.at / PPQ) * 0.25) * context.sampleRate).toBeLessThanOrEqual(0.51);
    }
  });

  it('skips what is past, and plays no burst, when the page wakes up late', async () => {
    await player.start(BEATS, bpm(240), ticks(0));
    const begin = scheduled[0]!.when;
    await wait(0.2);
    block(2);
    await wait(0.3);
    const now = context.currentTime;
    player.stop();
    await wait(0.1);
    for (const { note: one, when, now: at } of scheduled) expect(when, name(one)).toBeGreaterThanOrEqual(at);
    const found = onsets(recorder.heard(begin, now - 0.05), 200, 1e-3);
    const gaps = found.slice(1).map((frame, i) => frame - found[i]!);
    // A pause of whole beats, then time again.
    for (const gap of gaps) {
      const beatsApart = gap / (0.25 * context.sampleRate);
      expect(Math.abs(beatsApart - Math.round(beatsApart))).toBeLessThan(0.001);
      expect(beatsApart).toBeGreaterThan(0.9);
    }
    expect(Math.max(...gaps)).toBeGreaterThan(0.5 * context.sampleRate);
    expect(player.voices()).toBe(0);
  });

  it('has stopped cleanly after a sleep of more than three seconds', async () => {
    let state: PlayerState = { type: 'idle' };
    player.watch((next) => (state = next));
    await player.start(BEATS, bpm(240), ticks(0));
    await wait(0.2);
    // Held down against the player's own attempts to go on.
    context.resume = () => Promise.resolve();
    await context.suspend();
    await wait(3.4);
    expect(state).toEqual({ type: 'idle' });
    expect(player.position()).toBe(null);
    Reflect.deleteProperty(context, 'resume');
    await context.resume();
    await wait(0.3);
    expect(player.voices()).toBe(0);
  });

  it('goes on in time after an interruption that refuses every attempt to end it', async () => {
    await player.start(BEATS, bpm(240), ticks(0));
    const begin = scheduled[0]!.when;
    await wait(0.3);
    let refused = 0;
    context.resume = () => {
      refused++;
      return Promise.reject(new DOMException('a call has the sound', 'InvalidStateError'));
    };
    await context.suspend();
    await wait(0.5);
    expect(refused).toBeGreaterThan(3);
    Reflect.deleteProperty(context, 'resume');
    await wait(0.8);
    const kept = standing();
    expect(kept.map((one) => one.note.at)).toEqual(kept.map((_, i) => beats(i)));
    for (const { note: one, when, now } of kept) {
      expect(Math.abs(when - begin - (one.at / PPQ) * 0.25) * context.sampleRate).toBeLessThanOrEqual(0.51);
      expect(when).toBeGreaterThan(now);
    }
    expect(kept.at(-1)!.when).toBeGreaterThan(context.currentTime);
  });

  it('has stopped cleanly when its output is gone for good, and plays on a new one at the next press', async () => {
    const gone = new AudioContext();
    await player.close();
    player = createPlayer({ context: gone, sounds: impulses(gone.sampleRate) });
    const seen: PlayerState['type'][] = [];
    player.watch((state) => seen.push(state.type));
    await player.start(BEATS, bpm(240), ticks(0));
    await wait(0.2);
    await gone.close();
    await wait(3.4);
    expect(seen.at(-1)).toBe('idle');
    await player.start(BEATS, bpm(240), ticks(0));
    expect(seen.at(-1)).toBe('playing');
    await wait(0.5);
    expect(player.position()!).toBeGreaterThan(0);
  });

  it('says why when the browser lets no sound out', async () => {
    const seen: PlayerState[] = [];
    player.watch((state) => seen.push(state));
    await context.suspend();
    context.resume = () => new Promise(() => {});
    await player.start(BEATS, bpm(240), ticks(0));
    expect(JSON.stringify(seen.at(-1))).toMatch(/failed.*press play/);
    Reflect.deleteProperty(context, 'resume');
  });
});
