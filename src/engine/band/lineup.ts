import type { ByPart } from '../units/index.ts';
import { feelCalled } from './feels.ts';
import type { BandSettings, ChordInstrument } from './types.ts';

/** The instruments that can play the chords, the usual one first. */
export const CHORD_INSTRUMENTS: readonly ChordInstrument[] = ['electric-piano', 'piano', 'guitar'];

/** Everything the band can play on. */
export type Instrument = ChordInstrument | 'bass' | 'sticks' | 'brushes' | 'click';

/** Who plays which part; nobody plays the lead where it is left out. */
export type Lineup = ByPart<Instrument>;

/**
 * Which instrument plays which part: the kit as the feel wants it, the chords as the player does.
 * @throws RangeError when no feel has that name
 */
export function lineupOf({ feel, chords }: Pick<BandSettings, 'feel' | 'chords'>): Lineup {
  return {
    comp: chords ?? CHORD_INSTRUMENTS[0]!,
    bass: 'bass',
    drums: feelCalled(feel).kit,
    click: 'click',
  };
}
