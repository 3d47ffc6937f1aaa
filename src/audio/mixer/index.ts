export { CEILING_DB } from './output.ts';
export { FIRST_MIX, TRIMS } from './data.ts';
export { createMixer, type Mixer } from './mixer.ts';
