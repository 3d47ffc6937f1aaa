import { readChart, unfold } from '../../src/engine/chart/index.ts';
import type { Changes } from '../../src/engine/harmony/index.ts';
import { writtenChanges } from '../../src/engine/treatment/index.ts';

/** The changes of a chart as written. */
export const changesOf = (chart: string): Changes => writtenChanges(unfold(readChart(chart)));
