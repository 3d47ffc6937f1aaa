import type { Channel, Instrument, Level, Mix } from '../types.ts';

/**
 * The band as it first sounds: faders below full, so that each part can come forward; the whole at
 * about -18 LUFS, with 4 dB to go before the limiter. Our choice: a little more of the bass, since
 * small speakers give little of it.
 */
export const FIRST_MIX: Mix = {
  comp: { level: 0.75, mute: false },
  bass: { level: 0.8, mute: false },
  drums: { level: 0.75, mute: false },
  click: { level: 0.7, mute: false },
};

/** How a lead is heard where nothing is said: a little before the band (our choice). */
export const FIRST_LEAD: Level = { level: 0.8, mute: false };

/** Where a part sits: -1 left to 1 right, and how much of it the room hears, dB. Our choice. */
export const PLACES: Readonly<Record<Channel, { readonly pan: number; readonly room: number }>> = {
  comp: { pan: -0.22, room: -15 },
  bass: { pan: 0, room: -26 },
  drums: { pan: 0.12, room: -17 },
  click: { pan: 0, room: -Infinity },
  count: { pan: 0, room: -Infinity },
  lead: { pan: 0.22, room: -17 },
};

/**
 * dB that bring the instruments to a common loudness with the fader full up, measured by ITU-R BS.1770
 * on two bars at velocities from 60 to 90: bass and chords -17 LUFS, click -20, kits -23 (our choice: a
 * kit is short strokes and carries further than its loudness says).
 */
export const TRIMS: Readonly<Record<Instrument, number>> = {
  bass: 5,
  'electric-piano': 2.5,
  piano: 8,
  guitar: 6.5,
  sticks: 8,
  brushes: 8,
  click: 11,
};
