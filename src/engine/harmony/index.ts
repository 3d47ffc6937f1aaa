export * from './types.ts';
export * from './changes.ts';
