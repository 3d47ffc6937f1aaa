import type { TreatmentLayers } from '../engine/index.ts';

/** Treatments in place of the chart's own, and whether they are to be heard only. */
export interface Overlay {
  readonly layers: TreatmentLayers;
  readonly hidden: boolean;
}
