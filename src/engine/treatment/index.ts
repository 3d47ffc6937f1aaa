export * from './types.ts';
export { TREATMENTS, TREATMENT_KINDS, type TreatmentInfo } from './data.ts';
export { applyTreatment } from './apply.ts';
export { writtenChanges } from './written.ts';
export { treat, type TreatContext, type TreatmentLayers } from './treat.ts';
export { nextDominant, touch, touchSentence, type DominantAhead } from './touch.ts';
export { indexAt, joinChanges, sliceChanges, spanAt } from './slice.ts';
export { carryTreatments, DELETED_BAR, staleTreatments, type StaleTreatment } from './stale.ts';
export { homeTonic } from './home.ts';
