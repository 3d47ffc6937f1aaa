import {
  FIRST_MIX,
  FLAT,
  type Bpm,
  type Midi,
  type Mix,
  type NoteSource,
  type Ticks,
  type Shelves,
} from '../../engine/index.ts';
import { Ensemble, FIRST_LINEUP, instrumentsOf } from '../band/index.ts';
import { createMixer, type Mixer } from '../mixer/index.ts';
import { bankAt, loadSounds, type Sounds } from '../sounds/index.ts';
import type {
  Balance,
  Channel,
  Guest,
  Instrument,
  Lineup,
  Moment,
  Observer,
  Outside,
  Player,
  PlayerState,
} from '../types.ts';
import { alongside, hearing } from './alongside.ts';
import { Accompaniment } from './accompaniment.ts';
import { SINGLE, singleNote } from './single.ts';
import { Sequencer } from './sequencer.ts';
import { Ticker } from './ticker.ts';
import { Timeline } from './timeline.ts';

/** Seconds of music that are always with the audio clock already: a page blocked for less is not heard. */
const AHEAD = 1;
/** Milliseconds between looks. */
const INTERVAL = 40;
/** Seconds between the call to start and the first tick: time to hand over the first window. */
const LEAD = 0.1;
/** A change is certain to be heard this many seconds from now; the context adds what it renders in one go. */
const SAFETY = 0.03;
/** How long start waits for sounds before it begins with what is there, milliseconds. */
const PATIENCE = 1500;
/** How long start waits for the browser to let sound out, milliseconds. */
const GESTURE = 2000;
/** After a silence of this many milliseconds that nobody asked for (a sleeping laptop) the band has stopped. */
const LOST = 3000;
/** After this many milliseconds without music the audio clock is put to sleep. */
const REST = 3000;

/** What a player may be given; each has a default. */
export interface PlayerOptions {
  /** A context made in the user's gesture. */
  readonly context?: AudioContext;
  /** Where the sound goes; the context's output when left out. */
  readonly output?: AudioNode;
  readonly mix?: Mix;
  readonly tone?: Shelves;
  readonly lineup?: Lineup;
  /** Makes the small differences between notes; a render with the same seed sounds the same. */
  readonly seed?: number;
  /** Sounds to play instead of loaded ones. */
  readonly sounds?: Sounds;
  readonly observer?: Observer;
  /** Plays along. */
  readonly outside?: Outside;
}

/** What exists once the context does. */
interface Rig {
  readonly mixer: Mixer;
  readonly ensemble: Ensemble;
  /** Sounds single notes, beside the band and whether or not it plays. */
  readonly single: Ensemble;
}

/** What exists while music plays. */
interface Run {
  readonly line: Timeline;
  readonly sequencer: Sequencer;
  /** The wall clock's time when the audio clock was last seen to move, milliseconds. */
  alive: number;
  clock: number;
}

/** The player on the audio clock. */
export class LivePlayer implements Player {
  readonly #options: PlayerOptions;
  readonly #listeners = new Set<(state: PlayerState) => void>();
  readonly #ticker = new Ticker(INTERVAL);
  #state: PlayerState = { type: 'idle' };
  #context: AudioContext | null;
  #rig: Promise<Rig> | null = null;
  #ready: Rig | null = null;
  #run: Run | null = null;
  /** Counts calls to start and stop, so that one still waiting knows it has been overtaken. */
  #calls = 0;
  #mix: Mix;
  #tone: Shelves;
  #lineup: Lineup;
  #rest: ReturnType<typeof setTimeout> | undefined;
  /** The course of the latest run, which outlives it. */
  #line: Timeline | null = null;
  readonly #accompaniment = new Accompaniment();

  constructor(options: PlayerOptions) {
    this.#options = options;
    this.#context = options.context ?? null;
    this.#mix = options.mix ?? FIRST_MIX;
    this.#tone = options.tone ?? FLAT;
    this.#lineup = options.lineup ?? FIRST_LINEUP;
  }

  async start(source: NoteSource, tempo: Bpm, from: Ticks): Promise<void> {
    const call = ++this.#calls;
    this.#silence();
    clearTimeout(this.#rest);
    this.#dropClosed();
    try {
      const context = (this.#context ??= newContext());
      const running = context.resume();
      this.#rig ??= this.#build(context);
      const rig = await this.#rig;
      await this.#load(call, context.sampleRate);
      await within(running, GESTURE);
      if (call !== this.#calls) return;
      if (context.state !== 'running')
        throw new Error('the browser keeps the sound off; press play once more');
      this.#begin(context, rig, source, tempo, from);
    } catch (reason) {
      if (call !== this.#calls) return;
      const why = reason instanceof Error ? reason.message : String(reason);
      this.#setState({ type: 'failed', message: `Cannot play: ${why}` });
    }
  }

  replace(source: NoteSource, from: Ticks): void {
    const reach = this.reach();
    if (reach !== null) this.#run!.sequencer.replace(source, Math.max(from, reach));
  }

  setTempo(tempo: Bpm): void {
    const reach = this.reach();
    if (reach === null) return;
    const { line, sequencer } = this.#run!;
    line.setTempo(tempo, reach);
    sequencer.again(reach);
  }

  setMix(mix: Mix): void {
    this.#mix = mix;
    this.#ready?.mixer.setMix(mix);
  }

  setTone(tone: Shelves): void {
    this.#tone = tone;
    this.#ready?.mixer.setTone(tone);
  }

  setLineup(lineup: Lineup): void {
    this.#lineup = lineup;
    if (this.#ready === null || this.#context === null) return;
    this.#ready.ensemble.lineup = lineup;
    const again = () => {
      const reach = this.reach();
      if (reach !== null && this.#lineup === lineup) this.#run!.sequencer.again(reach);
    };
    if (this.#options.sounds) again();
    else void loadSounds(this.#context.sampleRate, instrumentsOf(lineup)).then(again);
  }

  async audition(pitch: Midi, instrument: Instrument = 'guitar'): Promise<void> {
    const context = (this.#context ??= new AudioContext({ latencyHint: 'interactive' }));
    const running = context.resume();
    clearTimeout(this.#rest);
    this.#rig ??= this.#build(context);
    const { mixer, single } = await this.#rig;
    if (!this.#options.sounds) await within(loadSounds(context.sampleRate, [instrument]), PATIENCE);
    await within(running, GESTURE);
    const when = context.currentTime + SINGLE.lead;
    single.lineup = { ...FIRST_LINEUP, lead: instrument };
    if (this.#run === null) {
      mixer.open(context.currentTime);
      this.#restSoon();
    }
    single.sweep();
    single.play(singleNote(pitch), when, when + SINGLE.length);
  }

  stop(): void {
    this.#calls++;
    this.#silence();
    this.#ready?.single.silence();
    if (this.#state.type !== 'idle') this.#setState({ type: 'idle' });
    this.#restSoon();
  }

  /** Puts the audio clock to sleep once nothing has sounded for a while. */
  #restSoon(): void {
    clearTimeout(this.#rest);
    this.#rest = setTimeout(() => {
      if (this.#run === null) void this.#context?.suspend();
    }, REST);
  }

  position(): number | null {
    return this.#run === null ? null : this.#run.line.tickAt(this.#heard());
  }

  speed(): number {
    return this.#context?.state === 'running' ? (this.#run?.line.speedAt(this.#heard()) ?? 0) : 0;
  }

  /** The time on the audio clock of what is heard now. */
  #heard(): number {
    const { currentTime, outputLatency, baseLatency } = this.#context!;
    return currentTime - (outputLatency || baseLatency || 0) - this.#ready!.mixer.delay;
  }

  reach(): number | null {
    if (this.#run === null) return null;
    const context = this.#context!;
    return this.#run.line.tickAt(context.currentTime + SAFETY + (context.baseLatency || 0));
  }

  watch(listener: (state: PlayerState) => void): () => void {
    this.#listeners.add(listener);
    listener(this.#state);
    return () => this.#listeners.delete(listener);
  }

  async clock(): Promise<AudioContext> {
    const context = (this.#context ??= newContext());
    clearTimeout(this.#rest);
    await within(context.resume(), GESTURE);
    await (this.#rig ??= this.#build(context));
    return context;
  }

  course(): readonly Moment[] {
    return this.#line?.course ?? [];
  }

  delay(): number {
    return this.#ready?.mixer.delay ?? 0;
  }

  accompany(guest: Guest | null): void {
    this.#accompaniment.guest = guest;
  }

  setBalance(balance: Balance): void {
    this.#accompaniment.balance = balance;
    this.#ready?.mixer.setBalance(balance);
  }

  voices(): number {
    const { ensemble, single } = this.#ready ?? {};
    return (ensemble?.voices.size ?? 0) + (single?.voices.size ?? 0);
  }

  async close(): Promise<void> {
    this.stop();
    clearTimeout(this.#rest);
    this.#ticker.close();
    this.#ready?.mixer.dispose();
    const given = this.#context === (this.#options.context ?? null);
    if (this.#context !== null && !given && this.#context.state !== 'closed') await this.#context.close();
  }

  /** A context that was closed, as when its device is gone for good, gives way to a new one. */
  #dropClosed(): void {
    if (this.#context?.state !== 'closed') return;
    this.#ready?.mixer.dispose();
    [this.#context, this.#rig, this.#ready] = [null, null, null];
  }

  async #build(context: AudioContext): Promise<Rig> {
    const mixer = await createMixer(context, this.#mix, this.#options.output);
    mixer.setMix(this.#mix);
    mixer.setTone(this.#tone);
    const stage = {
      context,
      sounds: this.#options.sounds ?? bankAt(context.sampleRate),
      output: (channel: Channel) => mixer.input(channel),
      lineup: this.#lineup,
      seed: this.#options.seed ?? 0,
      ...(this.#options.observer && { observer: this.#options.observer }),
    };
    this.#ready = { mixer, ensemble: new Ensemble(stage), single: new Ensemble(stage) };
    return this.#ready;
  }

  /** Waits for the sounds of the line-up, but not for ever, and says how far they have come. */
  async #load(call: number, sampleRate: number): Promise<void> {
    if (this.#options.sounds) return;
    const loading = loadSounds(sampleRate, instrumentsOf(this.#lineup), ({ done, total }) => {
      const waiting = call === this.#calls && this.#run === null;
      if (waiting && done < total) this.#setState({ type: 'loading', done, total });
    });
    await within(loading, PATIENCE);
  }

  #begin(context: AudioContext, rig: Rig, source: NoteSource, tempo: Bpm, from: Ticks): void {
    const begin = context.currentTime + LEAD;
    rig.mixer.open(begin - 0.01);
    rig.ensemble.lineup = this.#lineup;
    const line = new Timeline(from, begin, tempo);
    this.#line = line;
    this.#accompaniment.start(rig.mixer, from, begin);
    const { outside } = this.#options;
    const { delay } = rig.mixer;
    const sink = outside ? alongside(rig.ensemble, outside, hearing(context, delay)) : rig.ensemble;
    const sequencer = new Sequencer(sink, line, source, from);
    this.#run = { line, sequencer, alive: performance.now(), clock: context.currentTime };
    this.#fill();
    this.#ticker.start(() => this.#fill());
    this.#setState({ type: 'playing' });
  }

  /** Keeps the audio clock supplied; stops where it has stood still for long, or this has. */
  #fill(): void {
    if (this.#run === null) return;
    const context = this.#context!;
    const wall = performance.now();
    const now = context.currentTime;
    if (wall - this.#run.alive > LOST) {
      this.stop();
      return;
    }
    if (context.state !== 'running') void context.resume().catch(() => {});
    if (now > this.#run.clock) {
      this.#run.alive = wall;
      this.#run.clock = now;
    }
    const { line, sequencer } = this.#run;
    sequencer.fill(line.tickAt(now + AHEAD), now);
    this.#options.outside?.look();
  }

  #silence(): void {
    this.#ticker.stop();
    if (this.#run === null) return;
    this.#run = null;
    this.#accompaniment.stop();
    this.#ready!.mixer.shut();
    this.#ready!.ensemble.silence();
    this.#options.outside?.silence();
  }

  #setState(state: PlayerState): void {
    this.#state = state;
    for (const listener of this.#listeners) listener(state);
  }
}

const newContext = () => new AudioContext({ latencyHint: 'interactive' });

/** Waits for a promise, at most `milliseconds`. */
async function within(promise: Promise<unknown>, milliseconds: number): Promise<void> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  await Promise.race([promise, new Promise((resolve) => (timer = setTimeout(resolve, milliseconds)))]);
  clearTimeout(timer);
}
