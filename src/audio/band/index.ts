export { FIRST_LINEUP, instrumentsOf } from './data.ts';
export { Ensemble } from './ensemble.ts';
