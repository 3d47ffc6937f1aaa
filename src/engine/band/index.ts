export * from './types.ts';
export { clickTrack } from './click.ts';
export { comp } from './comp.ts';
export { walk } from './walk.ts';
export { drum } from './drum.ts';
export { countIn } from './count-in.ts';
export { swingRatioAt } from './swing.ts';
export { FEELS } from './feels.ts';
export { readFeel } from './feel.ts';
