import type { Degree, NoteName, Role } from '../harmony/index.ts';
import type { Event, Revision } from '../performance/index.ts';
import type { NeckSetting } from '../neck/index.ts';
import type { Standing } from '../practice/index.ts';
import type { Project } from '../project.ts';
import type { Bpm, Midi, Seconds, Ticks } from '../units/index.ts';

/** A note heard in a recording. */
export interface HeardNote {
  /** From the beginning of the recording. */
  readonly at: Seconds;
  readonly length: Seconds;
  /** The nearest key; null where more than one note sounds, which is not followed. */
  readonly pitch: Midi | null;
  /** How far it lies above the key (below: negative), in hundredths of a semitone; 0 without a key. */
  readonly cents: number;
  /** 0 (noise) to 1 (repeats exactly). */
  readonly clarity: number;
  /** The loudest it becomes, as a root mean square, 0 to 1. */
  readonly level: number;
}

/** What a note does over the chord that sounds: its role there, or none that the scale knows. */
export type HeardRole = Role | 'outside';

/** The four groups that a player thinks in. */
export type HeardGroup = 'chord' | 'tension' | 'scale' | 'outside';

/** A note of a take where it lies in the music. */
export interface LaidNote {
  readonly note: HeardNote;
  /** On the performance's beat line. */
  readonly at: Ticks;
  readonly length: Ticks;
  readonly round: number;
  /** Ticks into the round, bar of the round's changes, and the span whose chord it is heard over. */
  readonly into: Ticks;
  readonly bar: number;
  readonly span: number;
  /** The chord it is heard over, as it sounds; empty where there is none. */
  readonly chord: string;
  /** Null where several notes sound at once, or no chord does. */
  readonly degree: Degree | null;
  readonly name: NoteName | null;
  readonly role: HeardRole | null;
}

/** From `tick` on, which lies `at` seconds into a recording, the music moved at `tempo`. */
export interface TakeMoment {
  /** On the performance's beat line; with a fraction where the tempo was set by hand. */
  readonly tick: number;
  readonly at: number;
  readonly tempo: Bpm;
}

/** How a drill was heard in a take. */
export interface TakeDrill {
  /** The neck it was made for. */
  readonly neck: NeckSetting;
  /** True where the band was silent with it, but for the click. */
  readonly alone: boolean;
}

/** A chart as a take was played by it. */
export interface TakePlan {
  /** Its first drill is the one that was heard, where one was. */
  readonly project: Project;
  /** How the drill was heard; null where none was. */
  readonly drill: TakeDrill | null;
  /** Where practice had come to; null at its beginning. */
  readonly standing: Standing | null;
}

/** What changed the music while a take was recorded; ticks of the performance's beat line. */
export type TakeEvent =
  | Exclude<Event, Revision>
  /** From then on it went by plan number `plan`; `follow` says for each written bar where it went. */
  | {
      readonly type: 'revise';
      readonly at: Ticks;
      readonly plan: number;
      readonly follow: readonly (number | null)[];
    };

/** All that is needed to play the band of a take again, note for note. */
export interface TakeScript {
  /** Bars of count-in, and where in the first round the music began. */
  readonly countIn: number;
  readonly from: Ticks;
  /** The first is the one it began with. */
  readonly plans: readonly TakePlan[];
  readonly events: readonly TakeEvent[];
}
