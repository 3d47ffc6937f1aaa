import type {
  Bpm,
  Changes,
  Chart,
  HeardNote,
  HomeKey,
  Interval,
  Lineup,
  Midi,
  Mix,
  NoteSource,
  Notice,
  Opened,
  Part,
  PlayPlan,
  Project,
  Result,
  SheetBar,
  Shelves,
  StaffPlace,
  TakeMoment,
  Ticks,
  Trouble,
} from '../engine/index.ts';

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
  /** Called within a user's gesture when a start will follow later: browsers let sound begin only there. */
  wake?(): void;
  /** From tick `from` on, everything not yet heard is taken back and asked for anew from `source`. */
  replace(source: NoteSource, from: Ticks): void;
  /** Plays on at another tempo from this moment. */
  setTempo(tempo: Bpm): void;
  setMix(mix: Mix): void;
  /** Tilts the whole band by its shelves. */
  setTone?(tone: Shelves): void;
  /** Hands parts to other instruments; not needed for a source that says who plays. */
  setLineup?(lineup: Lineup): void;
  /**
   * Sounds one note by itself, beside whatever plays; by the guitar where nothing is said. Must be called
   * from a user's gesture the first time.
   */
  audition?(pitch: Midi, instrument?: 'guitar' | 'bass' | 'piano'): Promise<void>;
  /** Silence at once; nothing rings on. */
  stop(): void;
  /** The tick being heard now, with a fraction; null when stopped. */
  position(): number | null;
  /** How fast the music goes now, ticks per second; 0 while it stands still. */
  speed(): number;
  /** The earliest tick a change can still reach now; null when stopped. */
  reach(): number | null;
  /** Calls `listener` at every change of state, and once at once. Returns a function that ends it. */
  watch(listener: (state: PlayerState) => void): () => void;
}

/** An open microphone, as the page knows it. */
export interface OpenedMicrophone {
  /** Its name: what is measured is remembered under it. */
  readonly label: string;
  /** How late the player is likely to be heard, loudspeaker to recording, seconds; not measured. */
  readonly likely: number;
}

/** What was recorded over the band. */
export interface Recorded {
  /** A sound file of one channel that begins with the music, count-in included. */
  readonly sound: Blob;
  /** Seconds. */
  readonly length: number;
  /** The notes heard in it. */
  readonly notes: readonly HeardNote[];
  /** How the music moved meanwhile: from tick to tick, seconds into the sound, and at which tempo. */
  readonly course: readonly TakeMoment[];
}

export type RecorderNews =
  /** Several times a second while a microphone is open: the largest sample since, 0 to 1. */
  | { readonly type: 'level'; readonly peak: number; readonly clipped: boolean }
  /** While it records: the key that sounds, with a fraction; null when none does. */
  | { readonly type: 'key'; readonly key: number | null }
  /** The recording can go on no longer; `trouble` says why. What was recorded is there. */
  | { readonly type: 'ended'; readonly trouble: Trouble };

/** How loud band and player are heard against each other, fader positions from 0 to 1. */
export interface TakeBalance {
  readonly band: number;
  readonly guest: number;
}

/** A take as a file together with its band. */
export interface MixdownRequest extends Omit<SoundRequest, 'format' | 'compressed' | 'byPart'> {
  readonly balance: TakeBalance;
}

/** What the page needs for recording the player over the band, on the band's own clock. */
export interface RecorderPort {
  /** The longest take, seconds. */
  readonly longest: number;
  /** Asks for the microphone; must be called from a user's gesture. What it hears is never played. */
  open(): Promise<Result<OpenedMicrophone, Trouble>>;
  /** Lets the microphone go. */
  close(): void;
  /** Keeps what is heard from now on; the music is then to be started. */
  begin(): void;
  /** What was kept, from the beginning of the music on; to be asked for when the music has stopped. */
  end(): Promise<Result<Recorded, Trouble>>;
  /** Sends clicks out of the loudspeaker and finds them in the microphone: seconds from one to the other. */
  measure(): Promise<Result<number, Trouble>>;
  /**
   * From the next start of the player on, a take is heard with the music.
   * @param at how far into the sound a tick of the music lies, seconds
   */
  accompany(sound: Blob, at: (tick: number) => number): Promise<Result<null, Trouble>>;
  /** The band alone again. */
  alone(): void;
  /** Take and band as one sound file. */
  mixdown(sound: Blob, at: (tick: number) => number, request: MixdownRequest): Promise<Result<Blob, Trouble>>;
  setBalance(balance: TakeBalance): void;
  watch(listener: (news: RecorderNews) => void): () => void;
}

/** How charts leave the page and come back. */
export interface Exchange {
  /** A chart as the text of a file. */
  write(project: Project): string;
  /** The chart in a file's text, and what of it was not understood. */
  read(text: string): Result<Opened, Trouble>;
  /** What follows the `#` of a link that opens the chart. */
  link(project: Project): Promise<string>;
  /** The chart in what follows the `#` of a link, and what of it was not understood. */
  readLink(fragment: string): Promise<Result<Opened, Trouble>>;
  /** What a file's name ends with. */
  readonly ending: string;
}

/** How the samples of a WAV file are written. */
export interface SoundFormat {
  readonly depth: 16 | 24 | 'float';
  /** Hz. */
  readonly sampleRate: 44100 | 48000;
}

/** What is to become a sound file. */
export interface SoundRequest {
  readonly source: NoteSource;
  /** The first tick of the file, and the tick from which on nothing begins. */
  readonly from: Ticks;
  readonly to: Ticks;
  readonly tempo: Bpm;
  readonly mix: Mix;
  readonly tone: Shelves;
  readonly format: SoundFormat;
  /** What to call the file where it can say; null for a WAV file, else it is compressed, at 48 kHz. */
  readonly compressed: { readonly title: string } | null;
  /** A file for each part that is heard, instead of one for the whole band. */
  readonly byPart: boolean;
}

/** A finished file. */
export interface SoundFile {
  /** The part it holds; null for the whole band. */
  readonly part: Part | null;
  readonly file: Blob;
  /** What its name ends with, e.g. "wav". */
  readonly extension: string;
  /** Seconds. */
  readonly length: number;
}

/** Makes sound files of what the band plays. */
export interface RenderPort {
  /** What the name of a compressed file would end with; null where this browser cannot compress. */
  compressed?(): Promise<string | null>;
  /**
   * Takes some seconds for minutes of music. Fails with what to do about it; a render that is called
   * off through `signal` gives null.
   * @param onProgress told the share done, 0 to 1
   */
  render(
    request: SoundRequest,
    watch: { readonly signal: AbortSignal; readonly onProgress: (share: number) => void },
  ): Promise<Result<readonly SoundFile[], Trouble> | null>;
}

/** Whose something is that comes with the app. */
export interface Credit {
  /** What it is here. */
  readonly what: string;
  /** What it is called, and who made it. */
  readonly source: string;
  readonly licence: string;
  /** What was done to it, as a sentence. */
  readonly changed: string;
  /** Where the full text of the licence is served from. */
  readonly text: string;
}

/** What of a performance goes into a MIDI file, and how. */
export interface MidiChoices {
  readonly title: string;
  readonly key: HomeKey | null;
  /** The first round to write, counted from 0. */
  readonly first: number;
  /** How many, at least 1; with an ending more where the last one leaves no time to slow down. */
  readonly rounds: number;
  /** Bars of count-in, 0 for none. */
  readonly countIn: number;
  /**
   * `played` is what is heard, swing and the hands' lateness in the ticks. `straight` writes the same
   * music on the grid: off-beats halfway between the beats, nobody late.
   */
  readonly timing: 'played' | 'straight';
  /** The parts to write; the count-in is written whatever they are. */
  readonly parts: readonly Part[];
  /** Ends on a chord that is held, after slowing down. */
  readonly ending: boolean;
}

/** A chart to write as a lead sheet. */
export interface Sheet {
  readonly chart: Chart;
  /** The changes of the whole form after treatment, for the treatments; null where there are none. */
  readonly changes: Changes | null;
}

/** What of a chart goes into a lead sheet. */
export interface SheetChoices {
  readonly title: string;
  readonly key: HomeKey | null;
  readonly tempo: Bpm | null;
  /**
   * How the treatments of {@link Sheet.changes} are written, at the first pass of a written bar that has
   * one: not at all, as words below the staff ("altered"), or as a second chord symbol of the standard's
   * type "alternate" beside the one the chart has.
   */
  readonly treatments: 'leave-out' | 'words' | 'symbols';
}

/** Bars of notes to write. */
export interface StaffSheet {
  readonly title: string;
  readonly bars: readonly SheetBar[];
  readonly tempo: Bpm | null;
  /** How far above what sounds the bars are written, as their reader had it. */
  readonly written: Interval;
  /** The open strings from the lowest up, as MIDI keys, for a tablature beneath; null for none. */
  readonly tuning: readonly number[] | null;
  /** What is struck under each note, by its index; nothing when left out. */
  readonly under?: readonly (readonly StaffPlace[])[];
}

/** Files for other programs. */
export interface ScorePort {
  /** The band's rounds as a Standard MIDI File. The plan has music in it. */
  midi(plan: PlayPlan, choices: MidiChoices): Promise<Blob>;
  /** The chart as a MusicXML lead sheet, in the standard's compressed form on request. It has at least one bar. */
  sheet(sheet: Sheet, choices: SheetChoices, compressed: boolean): Promise<Blob>;
  /** Notes, e.g. of a drill, as MusicXML on a staff, with tablature where there is a tuning. At least one bar. */
  staff(sheet: StaffSheet, compressed: boolean): Promise<Blob>;
  /** The chords of the first chorus as the band voices them, as notes. The plan has music in it. */
  voicings(plan: PlayPlan, title: string, compressed: boolean): Promise<Blob>;
  /** The chords of a MusicXML file, compressed or not, as a chart. */
  read(file: Blob): Promise<Result<Opened, Trouble>>;
}

/** An instrument outside the page. */
export interface MidiOutlet {
  readonly id: string;
  readonly name: string;
}

/** Sends what the band plays to instruments outside the page. */
export interface MidiOutPort {
  /** False where the browser knows no MIDI. */
  readonly possible: boolean;
  /** The instruments there are. The browser asks the player's leave the first time. */
  connect(): Promise<Result<readonly MidiOutlet[], Trouble>>;
  /** Plays on this one from now on; null on none. */
  use(id: string | null): void;
  /** @param channels counted from 0; null for a part that is not sent */
  setChannels(channels: Readonly<Record<Part, number | null>>): void;
  /** Calls `listener` when instruments come or go, and once at once. Returns a function that ends it. */
  watch(listener: (outlets: readonly MidiOutlet[], used: string | null) => void): () => void;
}

/** A chart to choose. */
export interface Preset {
  readonly id: string;
  readonly title: string;
  /** What it is for, in one sentence. */
  readonly sentence: string;
  readonly project: Project;
}

/** A chart as the library lists it. */
export interface LibraryEntry {
  readonly id: string;
  readonly title: string;
  readonly tags: readonly string[];
  /** Milliseconds since 1970. */
  readonly saved: number;
  /** The changes as typed. */
  readonly text: string;
}

/** A chart as it stood before it was changed. */
export interface ChartVersion {
  readonly id: string;
  /** When it stood like this, in milliseconds since 1970. */
  readonly at: number;
  /** What the player calls it; empty when it was kept by itself. */
  readonly name: string;
}

/** One thing kept beside the charts: a set, a plan, a line of the log, a take. */
export interface Kept {
  readonly id: string;
  /** The chart it belongs to; empty where it belongs to none. */
  readonly chart: string;
  /** When it was first kept, in milliseconds since 1970. */
  readonly at: number;
  /** Plain data, as JSON can hold it. It may come from another device: read it with care. */
  readonly data: Readonly<Record<string, unknown>>;
}

/** Things of one kind, kept beside the charts. Nothing is read or written before it is asked for. */
export interface Records {
  /** Earliest first. */
  list(): Promise<Result<readonly Kept[], Trouble>>;
  /** What was removed and can still be taken back, earliest first. */
  removed(): Promise<Result<readonly Kept[], Trouble>>;
  /** @param chart the id of the chart it belongs to */
  add(data: Kept['data'], chart?: string): Promise<Result<Kept, Trouble>>;
  /** Keeps what has changed under its id. */
  put(record: Kept): Promise<Result<Kept, Trouble>>;
  /** For thirty days it can be taken back. */
  remove(id: string): Promise<Result<null, Trouble>>;
  takeBack(id: string): Promise<Result<null, Trouble>>;
}

/** Lines that are added and never altered. */
export type Log = Omit<Records, 'put'>;

/** Recordings. What was removed can be taken back for a day only, since sound takes much room. */
export interface Takes extends Records {
  /**
   * Fails before anything is lost when there is no room for the sound: offer it as a file then.
   * @param sound e.g. as a recorder gives it
   */
  add(data: Kept['data'], chart?: string, sound?: Blob): Promise<Result<Kept, Trouble>>;
  /** Null when there is none under this id. */
  sound(id: string): Promise<Result<Blob | null, Trouble>>;
}

/** What goes into a backup beside the charts, their versions, sets, plans and the log. */
export interface BackupWishes {
  /** Takes are large, so they are left out unless they are asked for. */
  readonly takes?: boolean;
  /** What the player likes, as it is kept. */
  readonly preferences?: Readonly<Record<string, unknown>>;
}

/** Where a save ended. */
export interface Saved {
  /** The id the chart is now kept under; another than asked for where both were kept. */
  readonly id: string;
  /** True when another tab had changed the chart: that one stays, and this one is kept beside it. */
  readonly beside: boolean;
}

/** What came of bringing a backup in. */
export interface Restored {
  /** Charts that were not in the library. */
  readonly added: number;
  /** Charts that were there already, the same to the letter. */
  readonly same: number;
  /** Charts that were there in another version; both are now. */
  readonly beside: number;
  /** Versions, sets, plans, lines of the log and takes that were not there. */
  readonly records: number;
  /** What the player likes, where the backup says so: kept by nobody yet. */
  readonly preferences: Readonly<Record<string, unknown>> | null;
  readonly notices: readonly Notice[];
}

/** How much the device lets the page keep, in bytes. */
export interface Room {
  readonly used: number;
  readonly total: number;
  /** True when charts should be saved as files before the device refuses more. */
  readonly low: boolean;
}

export type StorageNews =
  /** Changes wait to be saved, or all is saved. */
  | { readonly type: 'unsaved' | 'saved' }
  /** A save has failed and is tried again; what was changed is still in the session. */
  | { readonly type: 'failed'; readonly trouble: Trouble }
  /** Charts last only until the page is closed. */
  | { readonly type: 'temporary'; readonly trouble: Trouble }
  /** Another tab has changed or removed this chart. */
  | { readonly type: 'changed-elsewhere'; readonly id: string }
  /** Another tab has changed something of this kind. */
  | { readonly type: 'records-elsewhere'; readonly kind: 'sets' | 'plans' | 'log' | 'takes' }
  /** Another tab had changed the chart `id`: that one stays, and ours is now kept under `as`. */
  | { readonly type: 'kept-both'; readonly id: string; readonly as: string };

/**
 * What the page needs of the device. Charts are told apart by `project.id`; a project without one gets
 * one when it is first kept, and counts as the same chart until the page is loaded again.
 */
export interface StoragePort {
  /** The library, latest first. */
  list(): Promise<Result<readonly LibraryEntry[], Trouble>>;
  /** What was removed and can still be taken back, latest first. */
  removed(): Promise<Result<readonly LibraryEntry[], Trouble>>;
  /** A chart to work on: the next visit begins with it. */
  get(id: string): Promise<Result<Opened, Trouble>>;
  /** A chart to look at. */
  peek(id: string): Promise<Result<Opened, Trouble>>;
  /** The id of a chart that is the same to the letter as `project`, whatever its id; null when there is none. */
  find(project: Project): Promise<Result<string | null, Trouble>>;
  /** The chart last worked on; null on a first visit. */
  last(): Promise<Result<(Opened & { readonly inLibrary: boolean }) | null, Trouble>>;
  /** Leaves a chart lying for the next visit without putting it into the library. */
  lay(project: Project): void;
  /** Earlier versions of a chart, latest first. */
  versions(id: string): Promise<Result<readonly ChartVersion[], Trouble>>;
  /** A chart as it stood in a version, under its own id. */
  version(id: string): Promise<Result<Opened, Trouble>>;
  /**
   * Keeps the chart `id` as it stands as a version.
   * @param name under which it stays for good; empty for one that may be thinned out
   */
  keepVersion(id: string, name: string): Promise<Result<null, Trouble>>;
  /** Ordered lists of charts. */
  readonly sets: Records;
  readonly plans: Records;
  readonly log: Log;
  readonly takes: Takes;
  /** Saves at once. */
  put(project: Project): Promise<Result<Saved, Trouble>>;
  /** Gives a chart another title or other tags without opening it. */
  label(
    id: string,
    labels: { readonly title?: string; readonly tags?: readonly string[] },
  ): Promise<Result<null, Trouble>>;
  /** Takes a chart out of the library; for thirty days it can be taken back. */
  remove(id: string): Promise<Result<null, Trouble>>;
  takeBack(id: string): Promise<Result<null, Trouble>>;
  /** Saves within a second; to be called with every change. */
  keep(project: Project): void;
  /** Saves at once what {@link keep} was given; true when nothing is left unsaved. */
  settle(): Promise<boolean>;
  /** The whole library as the text of one file. */
  backup(wishes?: BackupWishes): Promise<Result<string, Trouble>>;
  /** Brings a backup in; nothing in the library is written over. */
  restore(text: string): Promise<Result<Restored, Trouble>>;
  /** Asks the browser not to clear the library when room is short; true when it has agreed. */
  persist(): Promise<boolean>;
  /** Null where the browser does not say. */
  room(): Promise<Room | null>;
  /** Calls `listener` with what happens from now on. Returns a function that ends it. */
  watch(listener: (news: StorageNews) => void): () => void;
  /** Saves what waits and lets the library go. */
  close(): Promise<void>;
}
