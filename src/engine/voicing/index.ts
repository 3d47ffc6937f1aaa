export * from './types.ts';
export { VOICINGS, STYLES, LOW_INTERVAL_LIMITS, LOW_INTERVAL_TOLERANCE } from './data.ts';
export { candidates, NARROWEST_RANGE, type CandidateOptions } from './candidates.ts';
export { alterations, guidePair, selections, tonesToHear, type Selection } from './selections.ts';
export { leadVoicings } from './lead.ts';
export { pathCost, pathJudge, type Judge } from './judge.ts';
export { VARIETY, type LeadOptions } from './options.ts';
export type { Attack } from './layers.ts';
export { PURE_MOTION, WEIGHTS, type Weights } from './cost.ts';
export { smallestMotion, totalMotion } from './motion.ts';
export {
  gripsFor,
  gripsOf,
  type ChordGripOptions,
  type Grip,
  type GripNote,
  type GripOptions,
} from './grips.ts';
export { leadGrips, type LeadGripOptions } from './neck-path.ts';
export type { Barre } from './hand.ts';
export { LAST_FRET } from './strings.ts';
