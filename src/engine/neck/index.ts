export * from './types.ts';
export { TUNINGS, type Tuning } from './data.ts';
export { nameOfKey, printTuning, readTuning, STRINGS, type TuningProblem } from './open-strings.ts';
export { GUITAR, notesOnNeck, tonesOf } from './notes.ts';
export { scaleForms } from './forms.ts';
export { nearestForm } from './lay.ts';
