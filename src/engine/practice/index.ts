export * from './types.ts';
export { NO_PRACTICE } from './data.ts';
export { changesInKey, formInKey, keyInterval, keyOffset } from './keys.ts';
export { ladderRounds, ladderTempo, rungBack } from './ladder.ts';
export { gapOf, musicPieces, playPieces, withGap, type Gap, type Piece, type Stretch } from './round.ts';
