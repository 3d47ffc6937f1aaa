export * from './units/index.ts';
export * from './harmony/index.ts';
export * from './chart/index.ts';
export * from './treatment/index.ts';
export * from './voicing/index.ts';
export * from './band/index.ts';
export * from './scales/index.ts';
export * from './performance.ts';
