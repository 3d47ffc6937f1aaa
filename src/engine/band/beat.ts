import type { Stroke } from './rhythm.ts';

/** A drum stroke before it is a note. */
export interface Beat {
  readonly stroke: Stroke;
  readonly key: number;
  readonly level: number;
  /** How long it lasts where it is held; a pulse where left out. */
  readonly held?: number;
  readonly comment: boolean;
  readonly why: string;
}
