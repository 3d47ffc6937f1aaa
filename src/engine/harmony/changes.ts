import type { Metre, Ticks } from '../units/index.ts';
import type { Chord } from './types.ts';

/** Where a treatment came from. */
export type TreatmentOrigin = 'hand' | 'rule' | 'live';

/** The colour laid over a dominant, as the changes carry it. The kinds stand in `treatment/data.ts`. */
export interface TreatmentMark {
  readonly kind: string;
  readonly origin: TreatmentOrigin;
  /** One sentence for the player: "altered on beats 3 and 4, placed by hand". */
  readonly reason: string;
}

/**
 * A stretch of one harmony. Spans follow each other without gap or overlap and cover their changes
 * from tick 0 to the end. A bar line does not end a span, unless the chart writes the chord anew.
 */
export interface Span {
  readonly start: Ticks;
  readonly length: Ticks;
  /** What the band plays; null where nothing is played by name (N.C. or an unreadable symbol). */
  readonly chord: Chord | null;
  /** What the chart says, before treatment. */
  readonly written: Chord | null;
  /** Why there is no chord; null when there is one. `rest` is the silence between two rounds. */
  readonly silence: 'no-chord' | 'gap' | 'rest' | null;
  readonly treatment: TreatmentMark | null;
  /** Index into the changes' bars of the bar the span begins in. */
  readonly bar: number;
  /** Offsets in the chart's text of the symbol as written. */
  readonly from: number;
  readonly to: number;
}

/** Stands for the written bar in bars of rest and count-in between two rounds. */
export const BETWEEN_ROUNDS = -1;

/** One bar as played. */
export interface PlayedBar {
  readonly start: Ticks;
  readonly length: Ticks;
  readonly metre: Metre;
  /** The rehearsal mark that begins here, e.g. "A". */
  readonly mark: string | null;
  /** Index of the written bar in the chart; {@link BETWEEN_ROUNDS} in a bar that no chart has. */
  readonly written: number;
  /** Ticks of the written bar that come before the first one played (a snippet may begin inside). */
  readonly skipped: Ticks;
}

/**
 * Everything downstream reads this: the chords of one round (a chorus, or the stretch that loops)
 * on their beat line, after treatment.
 */
export interface Changes {
  readonly length: Ticks;
  readonly bars: readonly PlayedBar[];
  readonly spans: readonly Span[];
}
