import { fail, ok, type Result, type Trouble } from '../../engine/index.ts';
import type {
  MixdownRequest,
  OpenedMicrophone,
  Recorded,
  RecorderNews,
  RecorderPort,
  TakeBalance,
} from '../../ui/ports.ts';
import type { Encode } from '../files.ts';
import type { Player } from '../types.ts';
import { Capture, type Block } from './capture.ts';
import { Following } from './follow.ts';
import { clicks, CLICKS_LAST, delayOf } from './latency.ts';
import { LOST, openMicrophone, type Microphone, type OpenMicrophone } from './microphone.ts';
import { mixdown } from './mixdown.ts';
import { LONGEST_TAKE, Tape } from './tape.ts';

/** A sample from here on has been cut off by the converter. */
const CLIPPED = 0.995;
/** How loud the clicks are sent, and sent again where they are not found: never at full level. */
const CLICK_LEVELS: readonly number[] = [0.1, 0.3];
/** How long the last sound may be on its way when the music has stopped, seconds. */
const ON_ITS_WAY = 0.45;
/** What a microphone that does not say is likely to need, seconds (our choice). */
const USUAL_INPUT = 0.012;

const FULL: Trouble = {
  message: `A take may last ${LONGEST_TAKE / 60} minutes, and this one has.`,
  remedy: 'It is kept as far as it goes. Press record for another.',
};
const NOTHING: Trouble = {
  message: 'Nothing was recorded.',
  remedy: 'Press record and wait for the count-in.',
};
const NOT_FOUND: Trouble = {
  message: 'The clicks were not found in what the microphone heard.',
  remedy:
    'Let them come out of a loudspeaker, or hold one side of the headphones to the microphone, turn it up a little and try again. Or set the time by hand.',
};
const UNREADABLE: Trouble = {
  message: 'The sound of this take cannot be read.',
  remedy: 'Save it as a file and open it in another program.',
};

/** What recording needs of the player: the clock it plays on, and how the music has moved. */
type Deck = Pick<Player, 'clock' | 'course' | 'delay' | 'accompany' | 'setBalance'>;

/** What exists while a microphone is open. */
interface Open {
  readonly context: AudioContext;
  readonly microphone: Microphone;
  readonly capture: Capture;
}

/** What exists while it records. */
interface Running {
  readonly tape: Tape;
  readonly following: Following;
  /** The frame of the audio clock at which the tape begins. */
  first: number | null;
}

/** Records the player over the band. */
export class Recorder implements RecorderPort {
  readonly longest = LONGEST_TAKE;
  readonly #deck: Deck;
  readonly #openMicrophone: OpenMicrophone;
  readonly #encode: Encode | null;
  readonly #listeners = new Set<(news: RecorderNews) => void>();
  #open: Open | null = null;
  #running: Running | null = null;
  /** True once the open microphone is gone. */
  #gone = false;
  /** What waits for blocks of its own. */
  #waiting: ((block: Block) => void) | null = null;

  /**
   * @param open asks for the microphone
   * @param encode makes sound files
   */
  constructor(deck: Deck, open: OpenMicrophone = openMicrophone, encode: Encode | null = null) {
    this.#deck = deck;
    this.#openMicrophone = open;
    this.#encode = encode;
  }

  async open(): Promise<Result<OpenedMicrophone, Trouble>> {
    const context = await this.#deck.clock();
    if (this.#gone) this.close();
    if (this.#open === null) {
      const opened = await this.#openMicrophone(context);
      if (!opened.ok) return opened;
      const microphone = opened.value;
      const capture = await Capture.of(microphone.node);
      capture.onBlock = (block) => this.#take(block);
      microphone.onlost = () => this.#lose();
      this.#open = { context, microphone, capture };
    }
    const { label, latency } = this.#open.microphone;
    const output = context.outputLatency || context.baseLatency || 0;
    return ok({ label, likely: output + this.#deck.delay() + (latency ?? USUAL_INPUT) });
  }

  close(): void {
    this.#open?.capture.close();
    this.#open?.microphone.close();
    this.#open = null;
    this.#running = null;
    this.#gone = false;
  }

  begin(): void {
    if (this.#open === null) throw new RangeError('a recording needs an open microphone');
    const rate = this.#open.context.sampleRate;
    const following = new Following(rate, (key) => this.#tell({ type: 'key', key }));
    this.#running = { tape: new Tape(rate), following, first: null };
  }

  async end(): Promise<Result<Recorded, Trouble>> {
    const running = this.#running;
    const rate = this.#open?.context.sampleRate;
    if (running === null || rate === undefined) return fail(NOTHING);
    await new Promise((resolve) => setTimeout(resolve, 1000 * ON_ITS_WAY));
    this.#running = null;
    const notes = await running.following.end();
    const course = this.#deck.course();
    const begin = course[0];
    if (begin === undefined || running.first === null) return fail(NOTHING);
    // The tape may have begun before the music.
    const spare = begin.time - running.first / rate;
    const length = running.tape.seconds - spare;
    if (length <= 0) return fail(NOTHING);
    return ok({
      sound: running.tape.wav(Math.round(spare * rate)),
      length,
      notes: notes
        .map((note) => ({ ...note, at: (note.at - spare) as typeof note.at }))
        .filter(({ at }) => at >= 0),
      course: course.map(({ tick, time, tempo }) => ({ tick, at: time - begin.time, tempo })),
    });
  }

  async measure(): Promise<Result<number, Trouble>> {
    const open = this.#open;
    if (open === null || this.#gone) return fail(LOST);
    const { context } = open;
    const rate = context.sampleRate;
    for (const level of CLICK_LEVELS) {
      const sent = clicks(rate, level);
      const buffer = new AudioBuffer({ length: sent.length, sampleRate: rate });
      buffer.copyToChannel(sent, 0);
      const begin = Math.ceil((context.currentTime + 0.2) * rate);
      const node = new AudioBufferSourceNode(context, { buffer });
      node.connect(context.destination);
      node.start(begin / rate);
      const heard = await this.#hear(begin, Math.round(CLICKS_LAST * rate));
      node.disconnect();
      if (heard === null) return fail(LOST);
      const delay = delayOf(heard, rate);
      // The band goes through the limiter, which the clicks do not.
      if (delay !== null) return ok(delay + this.#deck.delay());
    }
    return fail(NOT_FOUND);
  }

  async accompany(sound: Blob, at: (tick: number) => number): Promise<Result<null, Trouble>> {
    const context = await this.#deck.clock();
    try {
      this.#deck.accompany({ sound: await context.decodeAudioData(await sound.arrayBuffer()), at });
      return ok(null);
    } catch {
      return fail(UNREADABLE);
    }
  }

  alone(): void {
    this.#deck.accompany(null);
  }

  async mixdown(
    sound: Blob,
    at: (tick: number) => number,
    request: MixdownRequest,
  ): Promise<Result<Blob, Trouble>> {
    if (this.#encode === null) throw new RangeError('a file needs an encoder');
    return mixdown(sound, at, request, this.#encode);
  }

  setBalance(balance: TakeBalance): void {
    this.#deck.setBalance(balance);
  }

  watch(listener: (news: RecorderNews) => void): () => void {
    this.#listeners.add(listener);
    return () => this.#listeners.delete(listener);
  }

  #take(block: Block) {
    const peak = block.samples.reduce((most, x) => Math.max(most, Math.abs(x)), 0);
    this.#tell({ type: 'level', peak: Math.min(1, peak), clipped: peak >= CLIPPED });
    this.#waiting?.(block);
    const running = this.#running;
    if (running === null) return;
    running.first ??= block.frame;
    if (running.tape.push(block.samples)) running.following.push(block.samples);
    else this.#tell({ type: 'ended', trouble: FULL });
  }

  /** The samples from a frame of the clock on; null where the microphone is gone meanwhile. */
  #hear(from: number, length: number): Promise<Float32Array | null> {
    const heard = new Float32Array(length);
    return new Promise((resolve) => {
      const done = (result: Float32Array | null) => {
        this.#waiting = null;
        clearInterval(watch);
        resolve(result);
      };
      const watch = setInterval(() => (this.#gone || this.#open === null) && done(null), 100);
      this.#waiting = ({ frame, samples }) => {
        for (let i = Math.max(0, from - frame); i < samples.length && frame + i - from < length; i++) {
          heard[frame + i - from] = samples[i]!;
        }
        if (frame + samples.length >= from + length) done(heard);
      };
    });
  }

  /** The microphone is gone: what was recorded can still be asked for. */
  #lose() {
    const open = this.#open;
    open?.capture.close();
    open?.microphone.close();
    this.#gone = true;
    this.#tell({ type: 'ended', trouble: LOST });
  }

  #tell(news: RecorderNews) {
    for (const listener of [...this.#listeners]) listener(news);
  }
}
