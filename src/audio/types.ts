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

/** From `tick` on, which was at `time` on the audio clock, the music moved at `tempo`. */
export interface Moment {
  readonly tick: number;
  readonly time: number;
  readonly tempo: Bpm;
}

/** A recording that is heard with the music. */
export interface Guest {
  readonly sound: AudioBuffer;
  /** How far into the sound a tick of the music lies, seconds; negative before its beginning. */
  at(tick: number): number;
}

/** Fader positions, 0 to 1, of the band and of a {@link Guest}. */
export interface Balance {
  readonly band: number;
  readonly guest: number;
}

/**
 * An instrument outside the page that plays along. Its times are milliseconds of `performance.now()`: when
 * the band's own sound of that moment is heard.
 */
export interface Outside {
  play(note: NoteEvent, on: number, off: number): void;
  /** Takes back the notes from `tick` on. */
  takeBack(tick: number): void;
  /** Sets anew when each note that began before `tick` ends; null leaves it. */
  retime(tick: number, until: (note: NoteEvent) => number | null): void;
  /** Sends what is due soon; called every few hundredths of a second while music plays. */
  look(): void;
  /** Silence at once. */
  silence(): void;
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
  /** How fast the music goes now, ticks per second; 0 when stopped or while the audio clock stands. */
  speed(): number;
  /** The earliest tick a change can still reach now; null when stopped. */
  reach(): number | null;
  /** Calls `listener` at every change of state, and once at once. Returns a function that ends it. */
  watch(listener: (state: PlayerState) => void): () => void;
  /** The audio clock the music runs on. Must be called from a user's gesture the first time. */
  clock(): Promise<AudioContext>;
  /** How the music has moved since it was last started, in order; empty before that. */
  course(): readonly Moment[];
  /** By how many seconds the sound leaves later than its time on the clock, before the device's own latency. */
  delay(): number;
  /** From the next start on a recording is heard with the music; null for none. */
  accompany(guest: Guest | null): void;
  setBalance(balance: Balance): void;
  /** How many voices have not given their nodes back. */
  voices(): number;
  /** Stops and gives everything back; the player cannot be used again. */
  close(): Promise<void>;
}
