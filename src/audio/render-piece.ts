import { FIRST_MIX, type Bpm, type Mix, type NoteSource, type Shelves, type Ticks } from '../engine/index.ts';
import { Ensemble, FIRST_LINEUP } from './band/index.ts';
import { createDryMixer } from './mixer/index.ts';
import { Sequencer, Timeline } from './player/index.ts';
import type { Sounds } from './sounds/index.ts';
import type { Channel, Lineup } from './types.ts';

/** Seconds of music handed to the offline clock at a time: what waits costs time, too. */
const STEP = 1;

/**
 * Frames that a browser computes in one go, where it lets itself be told (Web Audio API 1.1); the others
 * take 128. What each node costs by itself is paid eight times less often: by measure a third of all time
 * is saved, and larger blocks save no more.
 */
const BLOCK = 1024;

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
  /** Told the share done, 0 to 1, every few seconds of music. */
  readonly onProgress?: (share: number) => void;
  /** Ends the render before its end; it is then rejected with the signal's reason. */
  readonly signal?: AbortSignal;
}

/**
 * Frames `from` to `to` of a render; those of the run-up before them are rendered, too, and thrown away:
 * in it begins all that may still sound when the piece does.
 */
export interface Piece {
  readonly from: number;
  readonly to: number;
  readonly runUp: number;
}

/** What a piece is rendered with, and whom it tells. */
export interface PieceOptions extends Omit<RenderOptions, 'signal'> {
  readonly sampleRate: number;
  readonly sounds: Sounds;
  /** Throws when the render is to end before its end. */
  readonly check: () => void;
  /** Told the share done, 0 to 1. */
  readonly onProgress: (share: number) => void;
}

/** Left and right, equally long. */
export type Stereo = readonly [Float32Array<ArrayBuffer>, Float32Array<ArrayBuffer>];

/** What is heard of the parts, and what of it the room hears. */
export interface Dry {
  readonly band: Stereo;
  readonly send: Stereo;
}

/** The tempi of a render, with its first tick `zero` seconds from the clock's own beginning. */
export function lineOf(source: NoteSource, { from, to, tempo }: RenderOptions, zero: number): Timeline {
  const line = new Timeline(from, zero, tempo, Infinity);
  for (const change of source.tempi?.(from, to) ?? []) line.anchor(change.at, change.tempo);
  return line;
}

/** Renders a piece up to where room and limiter come in. */
export async function renderPiece(piece: Piece, source: NoteSource, options: PieceOptions): Promise<Dry> {
  const { sampleRate, from, to, sounds, lineup = FIRST_LINEUP, seed = 0 } = options;
  const { check, onProgress } = options;
  check();
  const begin = piece.from - piece.runUp;
  const length = piece.to - begin;
  const seconds = length / sampleRate;
  const line = lineOf(source, options, -begin / sampleRate);
  const context = new OfflineAudioContext({
    ...{ numberOfChannels: 4, length, sampleRate },
    renderSizeHint: BLOCK,
  } as OfflineAudioContextOptions);
  const mixer = createDryMixer(context, options.mix ?? FIRST_MIX);
  if (options.tone) mixer.setTone(options.tone);
  mixer.open(0);
  const output = (channel: Channel) => mixer.input(channel);
  const ensemble = new Ensemble({ context, sounds, output, lineup, seed });
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
    check();
    ensemble.sweep();
    fill(STEP);
    onProgress(Math.min(1, now / seconds));
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
  mixer.dispose();
  const channel = (index: number) => rendered.getChannelData(index).subarray(piece.runUp);
  return { band: [channel(0), channel(1)], send: [channel(2), channel(3)] };
}
