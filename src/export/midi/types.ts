import type { HomeKey, Part } from '../../engine/index.ts';

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
