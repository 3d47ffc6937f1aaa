export { FIRST_LINEUP } from './data.ts';
export { Ensemble } from './ensemble.ts';
