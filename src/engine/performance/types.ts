import type { Lineup } from '../band/index.ts';
import type { Changes } from '../harmony/index.ts';
import type { TreatmentKind } from '../treatment/index.ts';
import type { Bpm, NoteEvent, Ticks } from '../units/index.ts';

/** Anything that can say which notes begin in a stretch of time. The one thing the edges read. */
export interface NoteSource {
  /**
   * The notes whose onset lies at `from` or later and before `to`, in order of onset, on the beat
   * line of the performance: tick 0 is the first beat of the music, the count-in lies before it.
   */
  notes(from: Ticks, to: Ticks): readonly NoteEvent[];
  /** Who plays the parts; whoever did before when left out. */
  readonly lineup?: Lineup;
  /**
   * The tempi that begin at `from` or later and before `to`, in order. A source that does not say, or
   * says nothing for a stretch, leaves the tempo to whoever plays it.
   */
  tempi?(from: Ticks, to: Ticks): readonly TempoChange[];
}

/** Another tempo from a tick on. */
export interface TempoChange {
  readonly at: Ticks;
  readonly tempo: Bpm;
}

/** Where a point of the performance lies in the music. */
export interface Place {
  /** Counted from 0 since the performance began. */
  readonly round: number;
  /** The performance's tick at which that round began. */
  readonly roundStart: Ticks;
  /** Ticks into the round. */
  readonly at: Ticks;
  /** The changes of that round, live touches included; one object for all points of the round. */
  readonly changes: Changes;
  /** Indices into `changes`. */
  readonly bar: number;
  readonly span: number;
}

/** What the music is played on to before it comes to its end: the end of the round, or of the section. */
export type Finish = 'round' | 'section';

/** How the music comes to its end. */
export interface Ending {
  /** The performance's tick from which it slows down. */
  readonly slows: Ticks;
  /** The performance's tick from which the last chord is held. */
  readonly rests: Ticks;
  /** Where it begins to slow down, and where the last bar is that is played. */
  readonly from: Place;
  readonly to: Place;
  /** The chord that is held, as it sounds; null when there is none. */
  readonly chord: string | null;
  /** Index of the span of that chord into the changes of the last round; null when there is none. */
  readonly holds: number | null;
}

/** A treatment put on while playing, on the performance's beat line. */
export interface LiveTouch {
  readonly at: Ticks;
  /** Null while it is held down. */
  readonly length: Ticks | null;
  readonly kind: TreatmentKind;
}
