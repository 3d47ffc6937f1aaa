export * from './types.ts';
export { readChart } from './read.ts';
export { unfold } from './unfold.ts';
export { printChart } from './print.ts';
export { carryBars } from './carry.ts';
