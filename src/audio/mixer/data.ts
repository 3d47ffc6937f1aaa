import type { Channel, Instrument } from '../types.ts';

/** How much of a part the room hears, dB. Our choice. */
export const ROOM_SHARE: Readonly<Record<Channel, number>> = {
  comp: -15,
  bass: -26,
  drums: -17,
  click: -Infinity,
  count: -Infinity,
  lead: -17,
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
