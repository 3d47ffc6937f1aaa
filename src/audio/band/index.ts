export { FIRST_LINEUP, instrumentsOf } from './data.ts';
export { channelOf, Ensemble } from './ensemble.ts';
