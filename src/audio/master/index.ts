export { LoudnessMeter } from './loudness.ts';
export { gainFor, mastered, TARGET_LUFS, type Pause, type Stereo, type WholeSound } from './master.ts';
