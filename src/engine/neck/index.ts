export * from './types.ts';
export { TUNINGS, type Tuning } from './data.ts';
export { GUITAR, notesOnNeck, tonesOf } from './notes.ts';
export { scaleForms } from './forms.ts';
