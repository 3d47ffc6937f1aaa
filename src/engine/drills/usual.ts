import { CELLS, type DrillKind } from './data.ts';
import type { DrillSettings } from './types.ts';

/**
 * A drill as first set. Our choice: eighths, up and down, in the first form of a scale, or where the changes
 * are played through in the fifth position, which has every note in reach.
 */
export function usualDrill(kind: DrillKind, over: 'chord' | 'changes'): DrillSettings {
  return {
    kind,
    rhythm: 'eighth',
    direction: 'up-down',
    accents: 'none',
    startBeat: 1,
    hand: over === 'chord' ? { type: 'form', number: 1 } : { type: 'position', fret: 5 },
    range: null,
    cell: Object.keys(CELLS)[0]!,
    line: 'third',
    seed: 1,
  };
}
