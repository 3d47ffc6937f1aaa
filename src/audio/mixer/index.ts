export { Finish } from './finish-core.ts';
export { Limiter, limiterDelay } from './limiter-core.ts';
export { CEILING_DB, limiterFor } from './output.ts';
export { TRIMS } from './data.ts';
export { createDryMixer, createMixer, faderGain, isHeard, type Mixer } from './mixer.ts';
