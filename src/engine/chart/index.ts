export * from './types.ts';
export { readChart } from './read.ts';
export { unfold } from './unfold.ts';
export { printChart } from './print.ts';
export { carryBars } from './carry.ts';
export { insertBar, mergeSlots, replaceSlot, splitSlot, writeBar } from './edit.ts';
export { removeBar } from './remove.ts';
export { plainestInterval, transposeChartText, type TransposeSpelling } from './transpose.ts';
