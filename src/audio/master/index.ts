export { LoudnessMeter } from './loudness.ts';
export { gainFor, mastered, TARGET_LUFS } from './master.ts';
