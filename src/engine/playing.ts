/** What plays a plan: the larger half of the engine, for whoever fetches it only once there is something to play. */
export { startPerformance } from './performance/index.ts';
export { performanceOf, scriptOf } from './take/index.ts';
