import { bpm, readText, type BandSettings, type PlayPlan } from '../../src/engine/index.ts';

/** Band settings a test starts from. */
export const SETTINGS: BandSettings = {
  tempo: bpm(140),
  feel: 'swing',
  swingRatio: null,
  voicing: 'rootless',
  density: 0.5,
  intensity: 0.5,
  seed: 1,
};

/** A plan that plays `text` as typed, round and round. */
export function planOf(text: string, plan: Partial<PlayPlan> = {}): PlayPlan {
  return {
    written: readText(text).written,
    layers: { placed: [], rules: [] },
    loop: null,
    settings: SETTINGS,
    ...plan,
  };
}
