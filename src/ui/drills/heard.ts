import type { DrillPlay } from '../../engine/index.ts';

/** A drill that is heard with the band, or with its click alone. */
export interface HeardDrill {
  /** Laid over the chart's plan; null while the chart has no place for it. */
  readonly play: DrillPlay | null;
  /** True while its sheet is open: from elsewhere the chart is played by itself. */
  readonly open: boolean;
}
