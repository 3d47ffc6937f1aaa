import type { Stroke } from './rhythm.ts';

/** A drum stroke before it is a note. */
export interface Beat {
  readonly stroke: Stroke;
  readonly key: number;
  readonly level: number;
  readonly comment: boolean;
  readonly why: string;
}
