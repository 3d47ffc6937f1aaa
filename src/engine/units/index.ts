export * from './time.ts';
export * from './pitch.ts';
export * from './metre.ts';
export * from './random.ts';
export * from './score.ts';
export * from './result.ts';
export * from './strings.ts';
