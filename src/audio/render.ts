import type { NoteSource } from '../engine/index.ts';
import { FIRST_LINEUP, instrumentsOf } from './band/index.ts';
import { breath } from './breath.ts';
import { Finishing } from './finishing.ts';
import { lineOf, renderPiece, type Dry, type Piece, type RenderOptions } from './render-piece.ts';
import { loadSounds } from './sounds/index.ts';

/** Pieces rendered side by side at most, each by a core: each takes memory as well. */
const MOST_LANES = 4;

/**
 * Seconds of music in a piece: at least, in all that are rendered side by side, and where the offline clock
 * cannot be stopped to hand over the next notes (Firefox). The longer, the less is spent on run-ups; the
 * shorter, the less memory is taken at a time. Where the clock cannot be stopped all voices of a piece
 * have to wait in it from the start, and each costs time while it waits.
 */
const PIECE = { least: 12, together: 180, unstopped: 20 } as const;

/** Seconds before a piece in which all begins that may still sound in it: no recording is longer than five. */
const RUN_UP = 8;

/** Seconds over which one piece gives way to the next: a browser may begin a stroke one frame off in one of them. */
const JOINT = 0.01;

/** Share of the work that is done when the pieces are rendered and only room and limiter remain. */
const RENDERED = 0.8;

/** Beyond this many frames a browser miscounts rather than refuses. */
const MOST_FRAMES = 2 ** 31;

/**
 * Renders a stretch of music with the same notes, voices, room and limiter as the live player. Frame 0 of
 * the result is tick `from`. The parts are rendered in pieces, side by side, and joined before room and
 * limiter take them, in order.
 * @throws RangeError when `to` does not lie after `from`, or so far that no device could hold the sound
 */
export async function renderOffline(source: NoteSource, options: RenderOptions): Promise<AudioBuffer> {
  const { from, to, sampleRate = 48000, tail = 2, lineup = FIRST_LINEUP, signal } = options;
  if (to <= from) throw new RangeError(`the end of a render, ${to}, lies after its beginning, ${from}`);
  const seconds = lineOf(source, options, 0).timeOf(to) + tail;
  const frames = Math.ceil(seconds * sampleRate);
  if (frames > MOST_FRAMES) throw new RangeError(`no device can hold ${seconds} seconds of sound`);
  const sounds = options.sounds ?? (await loadSounds(sampleRate, instrumentsOf(lineup)));
  const sound = new AudioBuffer({ numberOfChannels: 2, length: frames, sampleRate });
  const finishing = new Finishing(sound, jointAt(sampleRate));
  const lanes = Math.min(MOST_LANES, navigator.hardwareConcurrency || 1);
  const pieces = piecesOf(frames + finishing.delay, sampleRate, lanes);
  const done = pieces.map(() => ({ rendered: 0, finished: 0 }));
  const tell = () => {
    const shares = done.map(({ rendered, finished }) => RENDERED * rendered + (1 - RENDERED) * finished);
    options.onProgress?.(shares.reduce((sum, share) => sum + share, 0) / shares.length);
  };
  let failure: { readonly reason: unknown } | null = null;
  const check = () => {
    signal?.throwIfAborted();
    if (failure) throw failure.reason;
  };

  const waiting = pieces.entries();
  const begun: Promise<Dry>[] = [];
  const begin = () => {
    const next = waiting.next();
    if (next.done) return;
    const [i, piece] = next.value;
    const onProgress = (share: number) => {
      done[i]!.rendered = share;
      tell();
    };
    const work = renderPiece(piece, source, { ...options, sampleRate, sounds, check, onProgress });
    // Ends the others, too, whether this one is waited for yet or not.
    work.catch((reason: unknown) => (failure ??= { reason }));
    begun.push(work);
  };
  for (let lane = 0; lane < lanes; lane++) begin();
  for (const [i, progress] of done.entries()) {
    const dry = await begun.shift()!;
    progress.rendered = 1;
    begin();
    for (const share of finishing.add(dry, i === pieces.length - 1)) {
      check();
      progress.finished = share;
      tell();
      await breath();
    }
  }
  return sound;
}

const jointAt = (sampleRate: number) => Math.round(JOINT * sampleRate);

/** Equally long but for the last, in whole seconds, so that a stroke falls on the same frame in each. */
function piecesOf(frames: number, sampleRate: number, lanes: number): readonly Piece[] {
  const { least, together, unstopped } = PIECE;
  const longest = 'suspend' in OfflineAudioContext.prototype ? together / lanes : unstopped;
  const seconds = frames / sampleRate;
  const rounds = Math.ceil(seconds / (lanes * longest));
  const count = Math.max(1, Math.min(lanes * rounds, Math.floor(seconds / least)));
  const length = Math.ceil(seconds / count) * sampleRate;
  return Array.from({ length: Math.ceil(frames / length) }, (_, i) => {
    const from = i * length;
    const to = Math.min(frames, from + length + jointAt(sampleRate));
    return { from, to, runUp: Math.min(from, RUN_UP * sampleRate) };
  });
}
