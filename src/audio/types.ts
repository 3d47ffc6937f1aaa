import type { Bpm, ByPart, Midi, Mix, NoteEvent, NoteSource, Part, Ticks, Shelves } from '../engine/index.ts';

/**
 * A way into the mixer: one for each part, and one for the count-in, which stands at the click's level
 * and is heard though the click is muted.
 */
export type Channel = Part | 'count';

/** Everything that can be played; each is one file of sounds. */
export const INSTRUMENTS = [
  'bass',
  'electric-piano',
  'piano',
  'guitar',
  'sticks',
  'brushes',
  'click',
] as const;
export type Instrument = (typeof INSTRUMENTS)[number];

/** Who plays which part; nobody plays the lead where it is left out. */
export type Lineup = ByPart<Instrument>;

export type PlayerState =
  | { readonly type: 'idle' }
  /** Sounds are on their way; `done` of `total` have come. Playing starts with what is there. */
  | { readonly type: 'loading'; readonly done: number; readonly total: number }
  | { readonly type: 'playing' }
  /** Playing is not possible; `message` says why and what to do. */
  | { readonly type: 'failed'; readonly message: string };

/** Told of every voice as it is given to the audio clock or taken back from it. Times in seconds of that clock. */
export interface Observer {
  onSchedule?(note: NoteEvent, when: number): void;
  onCancel?(note: NoteEvent, when: number): void;
}

/** Plays a stream of notes and can change its mind about those not yet heard. */
export interface Player {
  /** Starts at tick `from` (negative for a count-in). Must be called from a user's gesture the first time. */
  start(source: NoteSource, tempo: Bpm, from: Ticks): Promise<void>;
  /**
   * From tick `from` on, or from {@link Player.reach} where that is later, everything not yet heard is
   * taken back and asked for anew from `source`. A chord or bass note that rings across takes its length
   * from `source`; one that `source` no longer has ends there.
   */
  replace(source: NoteSource, from: Ticks): void;
  /** Plays on at another tempo from this moment. */
  setTempo(tempo: Bpm): void;
  setMix(mix: Mix): void;
  setTone(tone: Shelves): void;
  /** Hands parts to other instruments, from the next notes that can be reached. */
  setLineup(lineup: Lineup): void;
  /** Sounds one note, beside whatever plays. Must be called from a user's gesture the first time. */
  audition(pitch: Midi, instrument?: Instrument): Promise<void>;
  /** Silence at once; nothing rings on. */
  stop(): void;
  /** The tick being heard now, with a fraction; null when stopped. */
  position(): number | null;
  /** The earliest tick a change can still reach now; null when stopped. */
  reach(): number | null;
  /** Calls `listener` at every change of state, and once at once. Returns a function that ends it. */
  watch(listener: (state: PlayerState) => void): () => void;
  /** How many voices have not given their nodes back. */
  voices(): number;
  /** Stops and gives everything back; the player cannot be used again. */
  close(): Promise<void>;
}
