import {
  PARTS,
  type Bpm,
  type Midi,
  type Mix,
  type NoteSource,
  type Ticks,
  type Shelves,
} from '../engine/index.ts';
import type { PlayerOptions } from './player/index.ts';
import type { Instrument, Lineup, Player, PlayerState } from './types.ts';

type Basics = Pick<
  Player,
  | 'start'
  | 'replace'
  | 'setTempo'
  | 'setMix'
  | 'setTone'
  | 'setLineup'
  | 'audition'
  | 'stop'
  | 'position'
  | 'speed'
  | 'reach'
  | 'watch'
>;

/**
 * A player that loads its code on the first press of play. It makes the audio context within that
 * press, as browsers demand, and hands it on.
 * @param options for the player that it loads
 * @param begun a context that an earlier press has made
 */
export function playerOnDemand(
  options: Omit<PlayerOptions, 'context'> = {},
  begun: AudioContext | null = null,
): Basics & { prepare(): void; wake(): void; deck(): Promise<Player> } {
  const listeners = new Set<(state: PlayerState) => void>();
  let state: PlayerState = { type: 'idle' };
  let mix: Mix | null = null;
  let tone: Shelves | null = null;
  let lineup: Lineup | null = null;
  let context = begun;
  let player: Player | null = null;
  let code: Promise<typeof import('./index.ts')> | null = null;
  let calls = 0;

  const tell = (next: PlayerState) => {
    state = next;
    for (const listener of listeners) listener(next);
  };
  const loadCode = () =>
    (code ??= import('./index.ts').catch((reason: unknown) => {
      code = null;
      throw reason;
    }));

  const setLineup = (next: Lineup) => {
    if (lineup !== null && PARTS.every((part) => next[part] === lineup![part])) return;
    lineup = next;
    player?.setLineup(next);
  };
  /** A source may say who plays it. */
  const follow = (source: NoteSource) => source.lineup && setLineup(source.lineup);

  /** To be called within a press. */
  const wake = (): AudioContext => {
    context ??= new AudioContext({ latencyHint: 'interactive' });
    void context.resume();
    return context;
  };

  /** Makes the context within the press and the player when its code has come. */
  const make = async (): Promise<Player> => {
    const context = wake();
    const { createPlayer } = await loadCode();
    if (player === null) {
      player = createPlayer({
        ...options,
        context,
        ...(mix && { mix }),
        ...(tone && { tone }),
        ...(lineup && { lineup }),
      });
      player.watch(tell);
    }
    return player;
  };

  return {
    /** Fetches the code ahead of the first press. */
    prepare() {
      loadCode().catch(() => undefined);
    },
    /** Makes the context and fetches the code within a press that {@link start} follows later. */
    wake() {
      wake();
      loadCode().catch(() => undefined);
    },
    async start(source: NoteSource, tempo: Bpm, from: Ticks) {
      follow(source);
      if (player !== null) return player.start(source, tempo, from);
      const call = ++calls;
      try {
        const made = make();
        tell({ type: 'loading', done: 0, total: 1 });
        await made;
        if (call !== calls) return;
      } catch {
        if (call === calls) {
          tell({
            type: 'failed',
            message: 'The sound could not be loaded. Reload the page and press play again.',
          });
        }
        return;
      }
      await player!.start(source, tempo, from);
    },
    async audition(pitch: Midi, instrument?: Instrument) {
      const made = player ?? (await make().catch(() => null));
      // A note that cannot be heard is no reason to interrupt anybody.
      await made?.audition(pitch, instrument).catch(() => undefined);
    },
    deck: make,
    replace(source, from) {
      player?.replace(source, from);
      follow(source);
    },
    setLineup,
    setTempo: (tempo) => player?.setTempo(tempo),
    setMix(next) {
      mix = next;
      player?.setMix(next);
    },
    setTone(next) {
      tone = next;
      player?.setTone(next);
    },
    stop() {
      calls++;
      if (player !== null) player.stop();
      else tell({ type: 'idle' });
    },
    position: () => player?.position() ?? null,
    speed: () => player?.speed() ?? 0,
    reach: () => player?.reach() ?? null,
    watch(listener) {
      listeners.add(listener);
      listener(state);
      return () => listeners.delete(listener);
    },
  };
}
