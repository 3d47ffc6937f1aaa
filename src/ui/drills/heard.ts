import type { DrillPlay } from '../../engine/index.ts';

/** A drill that is heard with the band, or with its click alone. */
export interface HeardDrill {
  /** Laid over the chart's plan; null while the chart has no place for it. */
  readonly play: DrillPlay | null;
  /** True while its sheet is open or a step of a plan asks for it: else the chart is played by itself. */
  readonly stays: boolean;
}
