import { FIRST_MIX, type Bpm, type Mix, type NoteSource, type Ticks, type Shelves } from '../engine/index.ts';
import { Ensemble, FIRST_LINEUP, instrumentsOf } from './band/index.ts';
import { createMixer } from './mixer/index.ts';
import { Sequencer, Timeline } from './player/index.ts';
import { loadSounds, type Sounds } from './sounds/index.ts';
import type { Channel, Lineup, Observer } from './types.ts';

/** Seconds of music handed to the offline clock at a time: what waits costs time, too. */
const STEP = 1;

/**
 * Where the offline clock cannot be stopped (Firefox), all voices of a context have to wait in it from the
 * start, and each costs time while it waits. Music is then rendered in pieces of so many seconds, each
 * begun earlier by a run-up, in which all begins that may still sound or ring when the piece does: no
 * recording is longer than five seconds.
 */
const PIECE = 20;
const RUN_UP = 8;

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
  const { from, to, sampleRate = 48000, tail = 2, lineup = FIRST_LINEUP, onProgress } = options;
  if (to <= from) throw new RangeError(`the end of a render, ${to}, lies after its beginning, ${from}`);
  const seconds = lineOf(source, options, 0).timeOf(to) + tail;
  const frames = Math.ceil(seconds * sampleRate);
  if (frames > MOST_FRAMES) throw new RangeError(`no device can hold ${seconds} seconds of sound`);
  const sounds = options.sounds ?? (await loadSounds(sampleRate, instrumentsOf(lineup)));
  const result = new AudioBuffer({ numberOfChannels: 2, length: frames, sampleRate });
  for (const piece of piecesOf(frames, sampleRate)) {
    const channels = await renderPiece(piece, source, sampleRate, sounds, {
      ...options,
      onProgress: (share) => onProgress?.((piece.from + share * (piece.to - piece.from)) / frames),
    });
    channels.forEach((samples, channel) => result.copyToChannel(samples, channel, piece.from));
  }
  onProgress?.(1);
  return result;
}

/** The tempi of a render, with its first tick `zero` seconds from the clock's own beginning. */
function lineOf(source: NoteSource, { from, to, tempo }: RenderOptions, zero: number): Timeline {
  const line = new Timeline(from, zero, tempo, Infinity);
  for (const change of source.tempi?.(from, to) ?? []) line.anchor(change.at, change.tempo);
  return line;
}

/** Frames `from` to `to` of a render; those of the run-up before them are rendered, too, and thrown away. */
interface Piece {
  readonly from: number;
  readonly to: number;
  readonly runUp: number;
}

/** All in one go where the offline clock can be stopped to hand over the next notes. */
function piecesOf(frames: number, sampleRate: number): readonly Piece[] {
  if ('suspend' in OfflineAudioContext.prototype) return [{ from: 0, to: frames, runUp: 0 }];
  const length = PIECE * sampleRate;
  return Array.from({ length: Math.ceil(frames / length) }, (_, i) => {
    const from = i * length;
    return { from, to: Math.min(frames, from + length), runUp: Math.min(from, RUN_UP * sampleRate) };
  });
}

/** The two channels of a piece. */
async function renderPiece(
  piece: Piece,
  source: NoteSource,
  sampleRate: number,
  sounds: Sounds,
  options: RenderOptions,
): Promise<readonly Float32Array<ArrayBuffer>[]> {
  const { from, to, lineup = FIRST_LINEUP, seed = 0, observer, signal, onProgress } = options;
  signal?.throwIfAborted();
  const begin = piece.from - piece.runUp;
  const frames = piece.to - begin;
  const seconds = frames / sampleRate;
  const line = lineOf(source, options, -begin / sampleRate);
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
  const output = (channel: Channel) => mixer.input(channel);
  const ensemble = new Ensemble({ context, sounds, output, lineup, seed, ...(observer && { observer }) });
  const sequencer = new Sequencer(ensemble, line, source, from);

  let giveUp: (reason: unknown) => void = () => {};
  const givenUp = new Promise<never>((_, reject) => (giveUp = reject));
  /** Hands over the notes that begin within so many seconds from now, and a little more: the clock stops on whole blocks. */
  const fill = (ahead: number) => {
    const now = context.currentTime;
    sequencer.fill(Math.min(to, line.tickAt(now + ahead + 0.1)), now);
  };
  const step = () => {
    const now = context.currentTime;
    signal?.throwIfAborted();
    ensemble.sweep();
    fill(STEP);
    onProgress?.(Math.min(1, now / seconds));
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
  if ('suspend' in context) step();
  else fill(seconds);
  const rendered = await Promise.race([context.startRendering(), givenUp]);
  const first = Math.round(mixer.delay * sampleRate) + piece.runUp;
  mixer.dispose();
  return [0, 1].map((channel) =>
    rendered.getChannelData(channel).subarray(first, first + piece.to - piece.from),
  );
}
