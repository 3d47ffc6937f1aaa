export * from './types.ts';
export { CELLS, DRILL_KINDS, PHRASE_RULES, RHYTHMS, type DrillKind, type PhraseRule } from './data.ts';
export { usualDrill } from './usual.ts';
export { buildDrill } from './build.ts';
export { sheetOf, type Reader } from './sheet.ts';
export type * from './sheet-types.ts';
