export { Recorder } from './recorder.ts';
export { microphoneOf, openMicrophone, type Microphone, type OpenMicrophone } from './microphone.ts';
export type { Deck } from './types.ts';
