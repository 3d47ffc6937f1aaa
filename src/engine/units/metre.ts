import { PPQ, ticks, type Ticks } from './time.ts';

/** A time signature as written, e.g. 4/4 or 6/8. */
export interface Metre {
  readonly count: number;
  readonly unit: 1 | 2 | 4 | 8 | 16;
}

export const COMMON_TIME: Metre = { count: 4, unit: 4 };

/** The length of a bar of `metre`. */
export function barLength(metre: Metre): Ticks {
  return ticks((metre.count * 4 * PPQ) / metre.unit);
}

/**
 * The length of one felt beat: the written unit, or three of them in the compound metres 6/8, 9/8,
 * 12/8 (and the same over 16). Common practice.
 */
export function beatLength(metre: Metre): Ticks {
  const compound = metre.unit >= 8 && metre.count > 3 && metre.count % 3 === 0;
  return ticks(((compound ? 3 : 1) * 4 * PPQ) / metre.unit);
}

/** How many felt beats a bar has. */
export function beatsInBar(metre: Metre): number {
  return barLength(metre) / beatLength(metre);
}

/** "4/4". */
export function metreName(metre: Metre): string {
  return `${metre.count}/${metre.unit}`;
}
