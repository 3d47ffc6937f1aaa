export { Recorder } from './recorder.ts';
export { microphoneOf, openMicrophone, type OpenMicrophone } from './microphone.ts';
