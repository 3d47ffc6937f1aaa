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
 * A shelf that lifts a part's upper register, Hz and dB. The double bass of the source is nearly all
 * fundamental: 85 % of its power lies below 150 Hz, where small speakers give nothing. Lifted from its
 * second and third harmonic up it is followed on a laptop, too, and no thinner on headphones (our
 * choice, by measure).
 */
export const PRESENCE: Readonly<Partial<Record<Channel, { frequency: number; gain: number }>>> = {
  bass: { frequency: 230, gain: 11 },
};

/**
 * dB that bring the instruments to a common loudness with the fader full up, measured by ITU-R BS.1770
 * on two bars at velocities from 60 to 90: bass and chords -17 LUFS, click -20, kits -23 (our choice: a
 * kit is short strokes and carries further than its loudness says).
 */
export const TRIMS: Readonly<Record<Instrument, number>> = {
  bass: 3.5,
  'electric-piano': 2.5,
  piano: 8,
  guitar: 6.5,
  sticks: 8,
  brushes: 8,
  click: 11,
};
