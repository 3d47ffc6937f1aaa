import { FIRST_MIX, type Bpm, type Mix, type NoteSource, type Ticks, type Shelves } from '../engine/index.ts';
import { Ensemble, FIRST_LINEUP, instrumentsOf } from './band/index.ts';
import { createMixer } from './mixer/index.ts';
import { Sequencer, Timeline } from './player/index.ts';
import { loadSounds, type Sounds } from './sounds/index.ts';
import type { Channel, Lineup, Observer } from './types.ts';

/** Seconds of music handed to the offline clock at a time: what waits costs time, too. */
const STEP = 1;

/**
 * Frames that a browser computes in one go, where it lets itself be told (Web Audio API 1.1); the others
 * take 128. What each node costs by itself is paid eight times less often: by measure a third of all time
 * is saved, and larger blocks save no more.
 */
const BLOCK = 1024;

/** Beyond this many frames a browser miscounts rather than refuses. */
const MOST_FRAMES = 2 ** 31;

/** What is rendered and how. */
export interface RenderOptions {
  /** First tick, at frame 0, and the tick at which no more notes begin. */
  readonly from: Ticks;
  readonly to: Ticks;
  readonly tempo: Bpm;
  /** Hz. */
  readonly sampleRate?: number;
  /** Seconds added after `to` for the last notes to die away. */
  readonly tail?: number;
  readonly mix?: Mix;
  readonly tone?: Shelves;
  readonly lineup?: Lineup;
  readonly seed?: number;
  readonly sounds?: Sounds;
  readonly observer?: Observer;
  /** Told the share done, 0 to 1, every few seconds of music. */
  readonly onProgress?: (share: number) => void;
  /** Ends the render before its end; it is then rejected with the signal's reason. */
  readonly signal?: AbortSignal;
}

/**
 * Renders a stretch of music through the same graph and with the same notes as the live player.
 * Frame 0 of the result is tick `from`.
 * @throws RangeError when `to` does not lie after `from`, or so far that no device could hold the sound
 */
export async function renderOffline(source: NoteSource, options: RenderOptions): Promise<AudioBuffer> {
  const { from, to, tempo, sampleRate = 48000, tail = 2, lineup = FIRST_LINEUP, seed = 0 } = options;
  if (to <= from) throw new RangeError(`the end of a render, ${to}, lies after its beginning, ${from}`);
  const line = new Timeline(from, 0, tempo, Infinity);
  for (const change of source.tempi?.(from, to) ?? []) line.anchor(change.at, change.tempo);
  const seconds = line.timeOf(to) + tail;
  const frames = Math.ceil(seconds * sampleRate);
  if (frames > MOST_FRAMES) throw new RangeError(`no device can hold ${seconds} seconds of sound`);
  const sounds = options.sounds ?? (await loadSounds(sampleRate, instrumentsOf(lineup)));
  // What the limiter holds back is rendered longer and cut off at the head.
  const spare = Math.ceil(0.05 * sampleRate);
  const context = new OfflineAudioContext({
    numberOfChannels: 2,
    length: frames + spare,
    sampleRate,
    renderSizeHint: BLOCK,
  } as OfflineAudioContextOptions);
  const mixer = await createMixer(context, options.mix ?? FIRST_MIX);
  if (options.tone) mixer.setTone(options.tone);
  mixer.open(0);
  const { observer } = options;
  const output = (channel: Channel) => mixer.input(channel);
  const ensemble = new Ensemble({ context, sounds, output, lineup, seed, ...(observer && { observer }) });
  const sequencer = new Sequencer(ensemble, line, source, from);

  let giveUp: (reason: unknown) => void = () => {};
  const givenUp = new Promise<never>((_, reject) => (giveUp = reject));
  const step = () => {
    const now = context.currentTime;
    options.signal?.throwIfAborted();
    ensemble.sweep();
    // A little more than a step, since the clock stops on the next whole block.
    sequencer.fill(Math.min(to, line.tickAt(now + STEP + 0.1)), now);
    options.onProgress?.(Math.min(1, now / seconds));
    const next = now + STEP;
    if (next >= seconds) return;
    void context.suspend(next).then(() => {
      try {
        step();
      } catch (reason) {
        giveUp(reason);
        // An offline context cannot be ended: what is left is rendered as silence, which takes little time.
        mixer.dispose();
      }
      void context.resume();
    });
  };
  step();
  const rendered = await Promise.race([context.startRendering(), givenUp]);
  options.onProgress?.(1);

  const delay = Math.round(mixer.delay * sampleRate);
  const result = new AudioBuffer({ numberOfChannels: 2, length: frames, sampleRate });
  for (const channel of [0, 1]) {
    result.copyToChannel(rendered.getChannelData(channel).subarray(delay, delay + frames), channel);
  }
  mixer.dispose();
  return result;
}
