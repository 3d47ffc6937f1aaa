import type { Changes, Chart, HomeKey, Bpm, NoteName, Ticks } from '../../engine/index.ts';

/** What of a chart goes into a MusicXML file. */
export interface SheetChoices {
  readonly title: string;
  readonly key: HomeKey | null;
  readonly tempo: Bpm | null;
  /**
   * How the treatments of {@link Sheet.changes} are written, at the first pass of a written bar that has one:
   * not at all, as words below the staff ("altered"), or as a second chord symbol of the standard's
   * type "alternate" beside the one the chart has.
   */
  readonly treatments: 'leave-out' | 'words' | 'symbols';
}

/** A chart to write. */
export interface Sheet {
  readonly chart: Chart;
  /** The changes of the whole form after treatment, for the treatments; null where there are none. */
  readonly changes: Changes | null;
}

/** A note to write on a staff. */
export interface StaffNote {
  /** From the start of the first bar. */
  readonly at: Ticks;
  readonly length: Ticks;
  /** MIDI key number. */
  readonly pitch: number;
  /** The pitch as spelled, e.g. "Eb". */
  readonly name: NoteName;
  /** Where it lies on the neck: strings counted from the highest, from 1. */
  readonly place?: { readonly string: number; readonly fret: number };
}
