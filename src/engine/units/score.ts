import type { Midi, Velocity } from './pitch.ts';
import type { Ticks } from './time.ts';

/** Who plays a note. `lead` is a single line over the band: a drill. */
export type Part = 'comp' | 'bass' | 'drums' | 'click' | 'lead';

export const PARTS: readonly Part[] = ['comp', 'bass', 'drums', 'click', 'lead'];

/** Something for every part of the band, and for the lead where there is one. */
export type ByPart<T> = Readonly<Record<Exclude<Part, 'lead'>, T> & { lead?: T }>;

/**
 * One note as it sounds: swing and feel are already in `at`. What is heard, written to a file and
 * printed all read this same record.
 */
export interface NoteEvent {
  /** Onset, in ticks from the start of the round or of the performance. */
  readonly at: Ticks;
  /** Sounding length, more than 0 ticks. */
  readonly length: Ticks;
  /** Key number; in the parts `drums` and `click` a General MIDI percussion key. */
  readonly pitch: Midi;
  /** The pitch as spelled, e.g. "Eb"; null for percussion. */
  readonly name: string | null;
  /** Its degree over the sounding chord, e.g. "b9"; null for percussion and passing tones outside. */
  readonly degree: string | null;
  readonly velocity: Velocity;
  readonly part: Part;
  /** True for a click that counts the player in: it is heard though the part is muted. */
  readonly counts?: true;
  /** The rule that put the note here, in words a player reads: "3rd of G7alt". */
  readonly why: string;
}
