export type { WavDepth } from './data.ts';
export type { WavFormat } from './header.ts';
export { wavWriter, type WavWriter } from './writer.ts';
