export * from './types.ts';
export { readChart } from './read.ts';
export { unfold } from './unfold.ts';
