export * from './types.ts';
export { scaleById, scaleList, type ScaleEntry } from './scale.ts';
export { transposeScale } from './transposed.ts';
export type { ScaleContext } from './context.ts';
export { suggestAt, suggestScales, suggestThrough } from './suggest.ts';
export { canPick, pickedOr } from './pick.ts';
export { targets, type ChordNote, type Played, type Target } from './targets.ts';
export { guideToneLines, type GuideTone, type GuideToneLine } from './guide-tones.ts';
