/**
 * The sound of the band: a live player on the audio clock and an offline render through the same graph.
 * Heavy (Tone, and sounds on first use): load it on the first press of play with `await import()`.
 */
import { LivePlayer, type PlayerOptions } from './player/index.ts';
import type { Player } from './types.ts';

export { FIRST_LINEUP } from './band/index.ts';
export { CEILING_DB } from './mixer/index.ts';
export { renderFiles, type Encode, type Encoder, type Watch } from './files.ts';
export { TARGET_LUFS } from './master/index.ts';
export type { PlayerOptions } from './player/index.ts';
export { renderOffline } from './render.ts';
export type { RenderOptions } from './render-piece.ts';
export { Bank, loadSounds, type Progress, type Sample, type Sounds } from './sounds/index.ts';
export * from './types.ts';

/** A player that makes its audio context, unless it is given one, when it first starts. */
export function createPlayer(options: PlayerOptions = {}): Player {
  return new LivePlayer(options);
}
