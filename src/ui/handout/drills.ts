import type { DrawnSystem } from '../notation/engrave.ts';

/** A drill as it is printed. */
export interface DrawnDrill {
  readonly id: string;
  readonly title: string;
  readonly systems: readonly DrawnSystem[];
  /** The notes of each system. */
  readonly words: readonly string[];
  /** Why there is nothing to play; null when all is well. */
  readonly problem: string | null;
}
