import type { Changes, Span } from '../harmony/index.ts';
import type { Bpm, Midi, NoteEvent, Ticks } from '../units/index.ts';
import type { Voicing, VoicingStyle } from '../voicing/index.ts';

/** An instrument that can play the chords. */
export type ChordInstrument = 'electric-piano' | 'piano' | 'guitar';

/** Bars that the band leaves to the player, counted on from chorus to chorus. */
export interface Trade {
  /** How many, fewer than `every`: the last of them. */
  readonly bars: number;
  /** Of how many. Four of eight: the band four, the player four. */
  readonly every: number;
  /** Who goes on while the player plays; in a drum solo the player trades with the drummer. */
  readonly goesOn: 'bass-and-drums' | 'drums' | 'drum-solo';
}

/** Who can fall silent for a while, so that the player must carry the music. */
export const DROPOUTS = ['comp', 'bass', 'comp-and-bass', 'all'] as const;

/** Bars in which part of the band is silent, counted on from round to round. */
export interface Dropout {
  /** With `all` nothing is left but a click on two and four. */
  readonly who: (typeof DROPOUTS)[number];
  /** How many, fewer than `every`: the last of them. */
  readonly bars: number;
  /** Of how many. */
  readonly every: number;
}

/** A note of the home key that the bass holds while the chords move above it. */
export interface Pedal {
  readonly on: 'root' | 'fifth';
  /**
   * Throughout, in every other round from the first on, or in the section the form begins or ends with; where
   * nothing is marked those are its first and its last four bars.
   */
  readonly where: 'throughout' | 'every-other-round' | 'first-section' | 'last-section';
}

/** A manner of comping: the Charleston and its kin, four to the bar, or sparse held chords. */
export type CompingStyle = 'charleston' | 'four' | 'pads';

/** What the player sets about the band. */
export interface BandSettings {
  readonly tempo: Bpm;
  /** Name of a feel, e.g. "swing". */
  readonly feel: string;
  /** Long part of the beat over its short part; null lets it follow the tempo. */
  readonly swingRatio: number | null;
  readonly voicing: VoicingStyle;
  /** How busy the comping is, 0 to 1. */
  readonly density: number;
  /** How hard the band plays, 0 to 1. */
  readonly intensity: number;
  readonly seed: number;
  /** Who plays the chords; the electric piano when left out. */
  readonly chords?: ChordInstrument;
  /**
   * Over how many rounds, 2 or more, the band rises from `intensity`; rounds of less than eight bars
   * count together. It does not rise when left out.
   */
  readonly build?: number;
  /** The band plays as at half or twice the tempo, over the same bars; in time when left out. */
  readonly time?: 'half' | 'double';
  /**
   * Where a feel that can be played in two is: in the first round, in every other from the first on, or
   * wherever the section that the form begins with comes (all of it, where nothing is marked). Nowhere
   * when left out.
   */
  readonly two?: 'first-round' | 'every-other-round' | 'first-section';
  /** The feel's own mixture when left out. */
  readonly comping?: CompingStyle;
  /** The bass moves with the chords when left out. */
  readonly pedal?: Pedal;
  /** The bass comes to the goal of a falling fifth by the root of the tritone substitute; as it likes when left out. */
  readonly approach?: 'tritone';
  /** What the band is counted in with; a click when left out. */
  readonly count?: 'sticks';
  /** Nothing is left to the player when left out. */
  readonly trade?: Trade;
  /**
   * True for notes that lie on the grid of the beat, nobody late: for a file to be edited, never kept
   * with a chart. With a swing ratio of 1 the off-beats lie there too.
   */
  readonly onGrid?: true;
}

/** A hit written by the player: the band strikes it together, at every pass of its bar. */
export interface PlacedHit {
  readonly id: string;
  /** Index of the written bar. */
  readonly bar: number;
  /** From the start of that bar, as written: an off-beat lies in the middle of its beat and is swung with the rest. */
  readonly at: Ticks;
  readonly accent: 'strong' | 'light';
  readonly length: 'short' | 'long';
  /** Who plays it: all, and the drums set it up; or the comping hand alone. */
  readonly by: 'band' | 'comp';
  /** Stop time: whoever plays the hit rests in its bar between the hits. */
  readonly stop: boolean;
}

/** What sounds at a point in time, for the music after it to join on to. */
export interface Carry {
  /** The last bass note that began before the point. */
  readonly bass: Midi | null;
  /** The last chord comped before the point. */
  readonly voicing: Voicing | null;
  /**
   * Until when the last comped chord rings, on the beat line of the plan; null when nothing rings. A
   * push at the end of one round rings past tick 0 of the next, so beat 1 need not be struck again.
   */
  readonly ringsUntil: Ticks | null;
}

/** One part of one round, to be played. */
export interface RoundPlan {
  readonly changes: Changes;
  /** The first span of the round that follows, for approaches and anticipations; null at the very end. */
  readonly next: Span | null;
  readonly settings: BandSettings;
  /** Counted from 0. Together with the seed it makes the variation. */
  readonly round: number;
  /** Notes are wanted from this tick of the round on. Notes before it are none of this plan's. */
  readonly from: Ticks;
  readonly carry: Carry;
  /** The music ends with `next`, a chord struck on its beat: nothing is pushed into it. */
  readonly ending?: boolean;
  /** Hits written into the chart; none when left out. */
  readonly hits?: readonly PlacedHit[];
  /** How many bars went by before the round; as many as all rounds before would have when left out. */
  readonly firstBar?: number;
  /** Everybody plays throughout when left out. */
  readonly dropout?: Dropout | null;
}

/** A part's notes for a round, from `plan.from` on, in order of onset, on the round's beat line. */
export type PartPlayer = (plan: RoundPlan) => readonly NoteEvent[];
