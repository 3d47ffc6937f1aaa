export { LivePlayer, type PlayerOptions } from './player.ts';
export { Sequencer } from './sequencer.ts';
export { Timeline } from './timeline.ts';
