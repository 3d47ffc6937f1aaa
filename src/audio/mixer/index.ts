export { CEILING_DB } from './output.ts';
export { TRIMS } from './data.ts';
export { createMixer, type Mixer } from './mixer.ts';
