export * from './types.ts';
export { scaleById } from './scale.ts';
export { suggestScales, type ScaleContext } from './suggest.ts';
