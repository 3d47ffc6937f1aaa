import type { Changes, Chord, Degree, NoteName } from '../harmony/index.ts';
import type { ScaleChoice } from '../scales/index.ts';
import type { Midi, Stop, Ticks } from '../units/index.ts';
import type { DrillKind } from './data.ts';

/** The length of the running notes. */
export type DrillRhythm = 'quarter' | 'eighth' | 'triplet' | 'sixteenth';

/** Which way a drill goes; in turns, one group rises and the next one falls. */
export type DrillDirection = 'up' | 'down' | 'up-down' | 'turns';

/** Which notes are struck harder: the first of each group, those on the beat or off it, every third one. */
export type DrillAccents = 'none' | 'groups' | 'beats' | 'off-beats' | 'threes';

/** Where the hand is: in a form of the scale, in a position (the fret of the index finger), or anywhere. */
export type DrillHand =
  | { readonly type: 'free' }
  | { readonly type: 'form'; readonly number: number }
  | { readonly type: 'position'; readonly fret: number };

/** A drill as it is kept: what to make, never the notes. */
export interface DrillSettings {
  readonly kind: DrillKind;
  readonly rhythm: DrillRhythm;
  readonly direction: DrillDirection;
  readonly accents: DrillAccents;
  /** The beat of the first bar that the first note falls on, counted from 1. */
  readonly startBeat: number;
  readonly hand: DrillHand;
  /** Lowest and highest pitch; null for what the hand reaches. */
  readonly range: { readonly low: Midi; readonly high: Midi } | null;
  /** For four-note cells the name of one of {@link CELLS}; else it plays no part. */
  readonly cell: string;
  /** For guide tones: which line, that from the first chord's third or that from its seventh. */
  readonly line: 'third' | 'seventh';
  /** What chance decides in it, it decides by this. */
  readonly seed: number;
}

/** A drill kept with a chart. */
export interface KeptDrill {
  readonly id: string;
  /** The written place of the chord it is made over; null where that is all changes, or what loops of them. */
  readonly place: { readonly bar: number; readonly at: Ticks } | null;
  readonly settings: DrillSettings;
  /** True where it is part of the handout. */
  readonly printed: boolean;
}

/** What a drill is played over: the changes of one round, and the scale of each of their spans. */
export interface Passage {
  readonly changes: Changes;
  /** One for each span of the changes; null where no scale is played. */
  readonly scales: readonly (ScaleChoice | null)[];
}

/** One chord to make a drill over, and what it leads to. */
export interface DrillChord {
  readonly chord: Chord;
  readonly scale: ScaleChoice;
  /** The chord after it in the chart; null where there is none. */
  readonly next: Chord | null;
  readonly metre: Changes['bars'][number]['metre'];
}

/** What a drill is made over. */
export type DrillGround =
  | { readonly over: 'chord'; readonly place: DrillChord }
  | { readonly over: 'changes'; readonly passage: Passage };

/** One note of a drill. Time is as written: swing belongs to the band's feel. */
export interface DrillNote {
  /** From the start of the drill. */
  readonly at: Ticks;
  readonly length: Ticks;
  readonly pitch: Midi;
  /** Spelled by its degree. */
  readonly name: NoteName;
  /** The readable spelling: never a double accidental. */
  readonly plain: NoteName;
  /** Over the chord that sounds; null for an approach from outside. */
  readonly degree: Degree | null;
  /** Where it lies on the neck; null where the neck has no such pitch. */
  readonly stop: Stop | null;
  readonly accent: boolean;
  /** The rule that put it there, in words a player reads. */
  readonly why: string;
}

/** An exercise, as a value. */
export interface Drill {
  /** E.g. "Thirds, G altered". */
  readonly title: string;
  readonly settings: DrillSettings;
  /** The bars and chords it is played over: what the band plays with it. */
  readonly changes: Changes;
  /** In order, never two at once; what lies between them is silence. */
  readonly notes: readonly DrillNote[];
  /** Why there is less here than was asked for, and what to do; null when all is well. */
  readonly problem: string | null;
}
