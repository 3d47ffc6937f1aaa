import type { Bpm, NoteSource, Part, Ticks } from '../engine/index.ts';

/** How loud a part is heard. */
export interface Level {
  /** 0 (silent) to 1 (full); a fader position, not a gain factor. */
  readonly level: number;
  readonly mute: boolean;
}

export type Mix = Readonly<Record<Part, Level>>;

export type PlayerState =
  | { readonly type: 'idle' }
  /** Sounds are on their way; `done` of `total` have come. Playing starts with what is there. */
  | { readonly type: 'loading'; readonly done: number; readonly total: number }
  | { readonly type: 'playing' }
  /** Playing is not possible; `message` says why and what to do. */
  | { readonly type: 'failed'; readonly message: string };

/** What the page needs of the sound. */
export interface PlayerPort {
  /** Starts at tick `from` (negative for a count-in). Must be called from a user's gesture the first time. */
  start(source: NoteSource, tempo: Bpm, from: Ticks): Promise<void>;
  /** From tick `from` on, everything not yet heard is taken back and asked for anew from `source`. */
  replace(source: NoteSource, from: Ticks): void;
  /** Plays on at another tempo from this moment. */
  setTempo(tempo: Bpm): void;
  setMix(mix: Mix): void;
  /** Silence at once; nothing rings on. */
  stop(): void;
  /** The tick being heard now, with a fraction; null when stopped. */
  position(): number | null;
  /** The earliest tick a change can still reach now; null when stopped. */
  reach(): number | null;
  /** Calls `listener` at every change of state, and once at once. Returns a function that ends it. */
  watch(listener: (state: PlayerState) => void): () => void;
}
