import { describe, expect, it } from 'vitest';
import { alongside, hearing, type Clocks, type Sink } from '../../src/audio/player/alongside.ts';
import { Sequencer } from '../../src/audio/player/sequencer.ts';
import { Timeline } from '../../src/audio/player/timeline.ts';
import {
  beats,
  bpm,
  MIDI_CHANNELS,
  PPQ,
  type NoteEvent,
  type NoteSource,
  type Part,
} from '../../src/engine/index.ts';
import { midiOutput, type Access } from '../../src/midi/output.ts';
import { loopOf, note, sourceOf, TRIO } from '../helpers/music.ts';

/** A message as the device gets it. */
interface Message {
  readonly at: number;
  readonly data: readonly number[];
}

/** A note as the device sounds it, milliseconds. */
interface Heard {
  readonly channel: number;
  readonly pitch: number;
  readonly on: number;
  readonly off: number;
}

/** Seconds between two looks of the player, and how far ahead it fills. */
const LOOK = 0.04;
const AHEAD = 1;
/** The audio clock began this long after the page's; what is scheduled is heard this much later. Seconds. */
const START = 5;
const LATENCY = 0.02;
const DELAY = 0.005;

/** A player, its audio clock and a device on a wire, without sound. Time stands still until {@link pass}. */
async function studio(channels: Partial<Record<Part, number | null>> = {}) {
  const messages: Message[] = [];
  let audio = 0;
  const now = () => (audio + START) * 1000;
  const device = (id: string) =>
    ({
      id,
      name: `Device ${id}`,
      state: 'connected',
      send: (data: number[], at = now()) => messages.push({ at, data }),
    }) as unknown as MIDIOutput;
  const outputs = new Map([
    ['a', device('a')],
    ['b', device('b')],
  ]);
  const access: Access = { outputs, onstatechange: null };
  let asked = 0;
  const out = midiOutput(() => {
    asked++;
    return Promise.resolve(access);
  }, now);
  out.setChannels({ ...MIDI_CHANNELS, click: null, ...channels });
  const before = asked;
  await out.connect();
  out.use('a');
  const clocks: Clocks = {
    get currentTime() {
      return audio;
    },
    baseLatency: 0,
    outputLatency: LATENCY,
    getOutputTimestamp: () => ({ contextTime: audio + 1, performanceTime: now() + 1000 + LATENCY * 1000 }),
  };
  const silent: Sink = { play: () => {}, takeBack: () => {}, retime: () => {} };
  const line = { now: new Timeline(0, 0.1, bpm(120)) };
  let sequencer: Sequencer | null = null;
  const fill = () => {
    sequencer?.fill(line.now.tickAt(audio + AHEAD), audio);
    out.look();
  };
  return {
    out,
    access,
    messages,
    asked: () => [before, asked],
    start: (source: NoteSource, tempo = 120, from = 0) => {
      out.silence();
      line.now = new Timeline(from, audio + 0.1, bpm(tempo));
      sequencer = new Sequencer(alongside(silent, out, hearing(clocks, DELAY, now)), line.now, source, from);
      fill();
    },
    stop: () => {
      sequencer = null;
      out.silence();
    },
    setTempo: (tempo: number) => {
      const reach = line.now.tickAt(audio + 0.03);
      line.now.setTempo(bpm(tempo), line.now.timeOf(reach));
      sequencer!.again(reach);
    },
    replace: (source: NoteSource, from: number) => {
      sequencer!.replace(source, Math.max(from, line.now.tickAt(audio + 0.03)));
    },
    /** Lets seconds go by, the player looking now and then. */
    pass: (seconds: number) => {
      for (const end = audio + seconds; audio < end - 1e-9;) {
        audio = Math.min(audio + LOOK, end);
        fill();
      }
    },
    now,
  };
}

/** When a tick is heard at 120 beats a minute from the first tick on, ms of the page's clock. */
const heardAt = (tick: number) => (0.1 + tick / PPQ / 2 + DELAY + START + LATENCY) * 1000;

/** What a device sounds that is told these messages; throws on a note that is never let go. */
function sounded(messages: readonly Message[]): Heard[] {
  const heard: Heard[] = [];
  const open = new Map<string, { on: number; channel: number; pitch: number }>();
  for (const { at, data } of messages.toSorted((a, b) => a.at - b.at)) {
    const [status = 0, pitch = 0, velocity = 0] = data;
    const channel = status & 0x0f;
    const key = `${channel} ${pitch}`;
    const sounding = open.get(key);
    if (status >> 4 === 9 && velocity > 0) {
      if (sounding) throw new Error(`${key} is struck at ${at} while it sounds since ${sounding.on}`);
      open.set(key, { on: at, channel, pitch });
    } else if (status >> 4 === 8 && sounding) {
      open.delete(key);
      heard.push({ ...sounding, off: at });
    }
  }
  if (open.size > 0) throw new Error(`stuck: ${[...open.keys()].join(', ')}`);
  return heard.toSorted((a, b) => a.on - b.on || a.channel - b.channel || a.pitch - b.pitch);
}

const wanted = (notes: readonly NoteEvent[]) =>
  notes
    .map(({ at, length, pitch, part }) => {
      const again = notes
        .filter((other) => other.part === part && other.pitch === pitch && other.at > at)
        .reduce((next, other) => Math.min(next, other.at), Infinity);
      const off = heardAt(Math.min(at + length, again));
      return { channel: MIDI_CHANNELS[part], pitch: Number(pitch), on: heardAt(at), off };
    })
    .toSorted((a, b) => a.on - b.on || a.channel - b.channel || a.pitch - b.pitch);

const rounded = (heard: readonly Heard[]) =>
  heard.map(({ on, off, ...rest }) => ({ ...rest, on: Math.round(on), off: Math.round(off) }));

describe('an instrument outside the page', () => {
  it('hears every note to the millisecond, together with what is heard of the band', async () => {
    const { start, pass, messages } = await studio();
    start(sourceOf(TRIO));
    pass(6);
    expect(rounded(sounded(messages))).toEqual(rounded(wanted(TRIO)));
  });

  it('is told no later than a note begins, and never far ahead', async () => {
    const { out, messages, start, pass, now } = await studio();
    const early: number[] = [];
    const look = out.look.bind(out);
    out.look = () => {
      const before = messages.length;
      look();
      for (const { at } of messages.slice(before)) early.push(at - now());
    };
    start(loopOf(TRIO, 8));
    pass(8);
    expect(early.length).toBeGreaterThan(100);
    expect(Math.min(...early)).toBeGreaterThanOrEqual(0);
    expect(Math.max(...early)).toBeLessThanOrEqual(121);
  });

  it('is silent at once when the band stops, at any moment', async () => {
    for (let stop = 0.11; stop < 1.5; stop += 0.037) {
      const { start, stop: end, pass, messages, now } = await studio();
      start(loopOf(TRIO, 8));
      pass(stop);
      end();
      const at = now();
      pass(1);
      const late = sounded(messages).filter(({ on, off }) => off > at + 1 && off - on > 1);
      expect(late).toEqual([]);
    }
  });

  it('has no note stuck or doubled through changes of tempo, and plays on in time', async () => {
    const { start, setTempo, pass, messages } = await studio();
    start(loopOf(TRIO, 8));
    for (const tempo of [121, 90, 300, 60, 180, 120]) {
      pass(0.613);
      setTempo(tempo);
    }
    pass(2);
    const before = messages.length;
    pass(4);
    expect(messages.length).toBeGreaterThan(before + 20);
    start(sourceOf([]));
    const rides = sounded(messages).filter(({ channel, pitch }) => channel === 9 && pitch === 44);
    expect(rides.at(-1)!.on - rides.at(-2)!.on).toBeCloseTo(1000, 0);
  });

  it('has no note stuck when the music changes under way or begins elsewhere', async () => {
    for (let moment = 0.2; moment < 1.4; moment += 0.051) {
      const { start, replace, pass, messages, stop } = await studio();
      start(loopOf(TRIO, 8));
      pass(moment);
      replace(loopOf([note('bass', 30, 80, 0, 4), ...TRIO.slice(10)], 4), beats(2 * moment));
      pass(0.3);
      start(loopOf(TRIO, 8), 140, beats(3));
      pass(1);
      stop();
      pass(0.2);
      expect(sounded(messages).length).toBeGreaterThan(10);
    }
  });

  it('goes on with a note that is taken back and asked for again as it begins', async () => {
    const { start, replace, pass, messages } = await studio();
    const source = sourceOf([note('bass', 40, 80, 0, 1), note('bass', 43, 80, 1, 1)]);
    start(source);
    // The second note is with the browser already, but has not begun.
    pass(0.53);
    replace(source, beats(0.9));
    pass(2);
    expect(rounded(sounded(messages)).map(({ pitch, on, off }) => [pitch, on, off])).toEqual([
      [40, Math.round(heardAt(0)), Math.round(heardAt(beats(1)))],
      [43, Math.round(heardAt(beats(1))), Math.round(heardAt(beats(2)))],
    ]);
  });

  it('lets a note that rings go where the music now ends it, sooner or later', async () => {
    const long = (length: number) => sourceOf([note('bass', 40, 80, 0, length)]);
    for (const length of [2, 6]) {
      const { start, replace, pass, messages } = await studio();
      start(long(4));
      pass(0.6);
      replace(long(length), beats(1.5));
      pass(4);
      const [only] = rounded(sounded(messages));
      expect(only!.off).toBe(Math.round(heardAt(beats(length))));
    }
  });

  it('a note that is gone after all does no more than blink', async () => {
    const { start, replace, pass, messages } = await studio();
    start(sourceOf([note('bass', 40, 80, 0, 1), note('bass', 43, 80, 1, 4)]));
    pass(0.53);
    replace(sourceOf([]), beats(0.9));
    pass(3);
    expect(sounded(messages).filter(({ pitch, on, off }) => pitch === 43 && off - on > 2)).toEqual([]);
  });

  it('gets each part on its channel, and no part that has none', async () => {
    const { start, pass, messages } = await studio({ comp: 4, bass: null });
    start(sourceOf(TRIO));
    pass(6);
    const channels = new Set(sounded(messages).map(({ channel }) => channel));
    expect([...channels].sort()).toEqual([4, 9]);
  });

  it('lets everything go when another instrument or another channel takes over', async () => {
    const { out, start, pass, messages } = await studio();
    start(sourceOf([note('bass', 40, 80, 0, 60)]));
    pass(1);
    out.use('b');
    expect(sounded(messages)).toHaveLength(1);
    expect(messages.at(-1)!.data.slice(0, 2)).toEqual([0xb1, 123]);
  });
});

describe('Web MIDI', () => {
  it('is asked for when the player connects, never before, and once', async () => {
    const { out, asked } = await studio();
    await out.connect();
    expect(asked()).toEqual([0, 1]);
  });

  it('is said to be absent where the browser has none', async () => {
    const out = midiOutput(null);
    expect(out.possible).toBe(false);
    expect(await out.connect()).toMatchObject({ ok: false, error: { message: /no MIDI/ } });
  });

  it('is said to be refused where the browser refuses, and can be asked for again', async () => {
    let refuse = true;
    const access: Access = { outputs: new Map(), onstatechange: null };
    const out = midiOutput(() => (refuse ? Promise.reject(new Error('no')) : Promise.resolve(access)));
    expect(await out.connect()).toMatchObject({ ok: false, error: { message: /does not let/ } });
    refuse = false;
    expect(await out.connect()).toEqual({ ok: true, value: [] });
  });

  it('tells of instruments that come and go; one that is pulled is not played on', async () => {
    const { out, access, start, pass, messages } = await studio();
    const told: [readonly string[], string | null][] = [];
    out.watch((outlets, used) => told.push([outlets.map(({ name }) => name), used]));
    (access.outputs as Map<string, MIDIOutput>).delete('a');
    access.onstatechange!(new Event('statechange') as MIDIConnectionEvent);
    expect(told).toEqual([
      [['Device a', 'Device b'], 'a'],
      [['Device b'], null],
    ]);
    start(sourceOf(TRIO));
    pass(2);
    expect(messages).toEqual([]);
    out.use('not there');
    expect(told.at(-1)![1]).toBeNull();
  });
});

describe('the two clocks', () => {
  const clocks = (contextTime: number, performanceTime: number): Clocks => ({
    currentTime: 10,
    baseLatency: 0.01,
    outputLatency: 0,
    getOutputTimestamp: () => ({ contextTime, performanceTime }),
  });

  it('agree by what the browser says is being heard', () => {
    expect(hearing(clocks(9.9, 5000), 0.006, () => 5000)(10)).toBeCloseTo(5106, 6);
  });

  it('agree by the latency where the browser does not say', () => {
    expect(hearing(clocks(0, 0), 0.006, () => 5000)(10)).toBeCloseTo(5016, 6);
  });

  it('do not follow every stray reading, but a jump at once', () => {
    let performanceTime = 5000;
    const shifting: Clocks = {
      ...clocks(0, 0),
      getOutputTimestamp: () => ({ contextTime: 9.9, performanceTime }),
    };
    const heard = hearing(shifting, 0, () => 5000);
    expect(heard(10)).toBeCloseTo(5100, 6);
    performanceTime = 5005;
    expect(heard(10)).toBeCloseTo(5100.5, 6);
    performanceTime = 6000;
    expect(heard(10)).toBeCloseTo(6100, 6);
  });
});
