import { randomFor, type NoteEvent, type Random } from '../../engine/index.ts';
import { TRIMS } from '../mixer/index.ts';
import type { Sounds } from '../sounds/index.ts';
import type { Channel, Instrument, Lineup, Observer } from '../types.ts';
import { touchOf, type Touch } from './data.ts';
import { Shades } from './shades.ts';
import { Voice, type Strike } from './voice.ts';

/** What an ensemble plays on. */
export interface Stage {
  readonly context: BaseAudioContext;
  readonly sounds: Sounds;
  readonly output: (channel: Channel) => AudioNode;
  readonly lineup: Lineup;
  /** Notes of the same seed, tick and key sound alike on every run. */
  readonly seed: number;
  readonly observer?: Observer;
}

/**
 * Turns notes into voices and keeps every voice until it is over: who ends whom, what is taken back,
 * what is let go. Times are seconds on the context's clock.
 */
export class Ensemble {
  lineup: Lineup;
  readonly #stage: Stage;
  readonly #voices = new Set<Voice>();
  readonly #shades: Readonly<Record<Channel, Shades>>;

  constructor(stage: Stage) {
    this.#stage = stage;
    this.lineup = stage.lineup;
    const shades = (channel: Channel) => new Shades(stage.output(channel));
    this.#shades = {
      comp: shades('comp'),
      bass: shades('bass'),
      drums: shades('drums'),
      click: shades('click'),
      count: shades('count'),
      lead: shades('lead'),
    };
  }

  /** Every voice that has not given its nodes back. */
  get voices(): ReadonlySet<Voice> {
    return this.#voices;
  }

  /**
   * Plays a note from `when` to `until`. Where nobody plays its part, or the instrument has no sound for
   * its key, nothing happens.
   */
  play(note: NoteEvent, when: number, until: number): void {
    const { context, sounds, seed, observer } = this.#stage;
    const instrument = this.lineup[note.part];
    if (instrument === undefined) return;
    const random = randomFor(seed, 'voice', note.part, note.at, note.pitch);
    const sample = sounds.pick(instrument, note.pitch, random);
    if (sample === null) return;
    const { sampleRate, currentTime: now } = context;
    const onFrame = Math.round(Math.max(when, now) * sampleRate) / sampleRate;
    const touch = touchOf(instrument, note.pitch);
    for (const voice of this.#voices) {
      if (
        voice.note.part === note.part &&
        voice.when < onFrame &&
        voice.ended > onFrame &&
        !voice.silenced &&
        ends(note, voice)
      ) {
        voice.end(onFrame, now);
      }
    }
    const { brightness, ...strike } = shade(note, instrument, touch, random);
    const output = this.#shades[channelOf(note)].at(brightness, sample.buffer.numberOfChannels);
    const voice = new Voice(context, note, touch, { sample, ...strike }, onFrame, output, (over) =>
      this.#voices.delete(over),
    );
    voice.letGo(until, now);
    this.#voices.add(voice);
    observer?.onSchedule?.(note, onFrame);
  }

  /**
   * Takes back the notes from `tick` on, none of which may have begun, and the endings they brought to
   * earlier ones.
   * @param when where `tick` lies on the clock
   */
  takeBack(tick: number, when: number): void {
    const now = this.#stage.context.currentTime;
    for (const voice of this.#voices) {
      if (voice.note.at >= tick && voice.when > now && !voice.silenced) {
        voice.silence(now);
        this.#stage.observer?.onCancel?.(voice.note, voice.when);
      }
    }
    for (const voice of this.#voices) {
      if (voice.note.at < tick && voice.ended >= when - FRAME) voice.end(Infinity, now);
    }
  }

  /** Sets anew when each voice that began before `tick` is let go; `until` says when, null leaves it. */
  retime(tick: number, until: (note: NoteEvent) => number | null): void {
    const now = this.#stage.context.currentTime;
    for (const voice of this.#voices) {
      if (voice.note.at >= tick || voice.touch.release === null || voice.dying <= now) continue;
      const when = until(voice.note);
      if (when !== null) voice.letGo(when, now);
    }
  }

  /** Ends every voice within milliseconds. */
  silence(): void {
    const now = this.#stage.context.currentTime;
    for (const voice of this.#voices) voice.silence(now);
  }

  /** Frees the voices that are over; a live context also does so by itself, one by one. */
  sweep(): void {
    const now = this.#stage.context.currentTime;
    for (const voice of this.#voices) {
      if (voice.over >= now) continue;
      voice.free();
      this.#voices.delete(voice);
    }
  }
}

/** Half a frame at 96 kHz and more at lower rates: less than any two onsets are apart. */
const FRAME = 1e-5;

/** Whether a note, as it begins, ends a voice of its own part. */
function ends(note: NoteEvent, voice: Voice): boolean {
  const { endedBy } = voice.touch;
  if (endedBy === 'any') return true;
  if (endedBy === 'same key') return voice.note.pitch === note.pitch;
  return endedBy[voice.note.pitch]?.includes(note.pitch) ?? false;
}

/** How far the level strays from note to note, as a share either way: half a decibel (our choice). */
const LEVEL_STRAY = 0.06;
/** How far the brightness strays, in octaves either way (our choice). */
const BRIGHTNESS_STRAY = 0.12;

/** Loudness by the square of velocity, brightness by velocity, and a little chance in both. */
function shade(
  note: NoteEvent,
  instrument: Instrument,
  touch: Touch,
  random: Random,
): Omit<Strike, 'sample'> & { brightness: number } {
  const force = note.velocity / 127;
  const stray = () => 2 * random.next() - 1;
  const trim = 10 ** ((TRIMS[instrument] + (touch.balance?.[note.pitch] ?? 0)) / 20);
  return {
    level: trim * force ** 2 * (1 + LEVEL_STRAY * stray()),
    speed: 1 + touch.stray * stray(),
    brightness: touch.dark * (touch.bright / touch.dark) ** force * 2 ** (BRIGHTNESS_STRAY * stray()),
    skip: touch.skip * random.next(),
    from: random.next(),
  };
}

/** What counts the player in has a way of its own. */
export function channelOf({ part, counts }: NoteEvent): Channel {
  return counts === true ? 'count' : part;
}
