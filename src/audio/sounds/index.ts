export { Bank, type Sample, type Sounds } from './bank.ts';
export { bankAt, loadSounds, type Progress } from './load.ts';
