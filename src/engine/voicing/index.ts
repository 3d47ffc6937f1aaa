export * from './types.ts';
export { VOICINGS, STYLES, LOW_INTERVAL_LIMITS, LOW_INTERVAL_TOLERANCE } from './data.ts';
export { candidates, NARROWEST_RANGE, type CandidateOptions } from './candidates.ts';
export { alterations, guidePair, selections, tonesToHear, type Selection } from './selections.ts';
export { leadVoicings, pathCost, VARIETY, type LeadOptions } from './lead.ts';
export type { Attack } from './layers.ts';
export { PURE_MOTION, WEIGHTS, type Weights } from './cost.ts';
export { smallestMotion, totalMotion } from './motion.ts';
