import type { BandSettings } from '../engine/index.ts';

/** A change of the band's settings; undefined leaves one of those open that can be. */
export type SettingsChange = { readonly [Key in keyof BandSettings]?: BandSettings[Key] | undefined };

/** The settings after a change. What is left open is not in them at all. */
export function changed(settings: BandSettings, change: SettingsChange): BandSettings {
  const entries = Object.entries({ ...settings, ...change }).filter(([, value]) => value !== undefined);
  return Object.fromEntries(entries) as unknown as BandSettings;
}

/** The settings with what the player wants to be counted in with. */
export function withCount(settings: BandSettings, sound: 'click' | 'sticks'): BandSettings {
  return sound === 'sticks' ? { ...settings, count: sound } : settings;
}
