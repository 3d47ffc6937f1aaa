export { FIRST_LINEUP } from './data.ts';
export { Ensemble, type Stage } from './ensemble.ts';
