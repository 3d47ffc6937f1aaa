export type { WavDepth } from './data.ts';
export { wavWriter } from './writer.ts';
