/**
 * What an instrument is in General MIDI, for files and for instruments outside the page.
 *
 * Programs are counted from 0, as they are sent. Their names are those of the General MIDI sound set;
 * the kits are programs of the percussion channel (General MIDI 2: 32 jazz, 40 brush), where an
 * instrument of the first General MIDI plays its only kit. Values: `shared/reference/general-midi.json`.
 */
import type { Part } from '../units/index.ts';
import type { Instrument } from './lineup.ts';

export interface GeneralMidi {
  /** 0 to 127; null leaves the channel as it is. */
  readonly program: number | null;
  /** As the sound set calls it. */
  readonly name: string;
}

export const GENERAL_MIDI: Readonly<Record<Instrument, GeneralMidi>> = Object.freeze({
  'electric-piano': Object.freeze({ program: 4, name: 'Electric Piano 1' }),
  piano: Object.freeze({ program: 0, name: 'Acoustic Grand Piano' }),
  guitar: Object.freeze({ program: 26, name: 'Electric Guitar (jazz)' }),
  bass: Object.freeze({ program: 32, name: 'Acoustic Bass' }),
  sticks: Object.freeze({ program: 32, name: 'Jazz' }),
  brushes: Object.freeze({ program: 40, name: 'Brush' }),
  click: Object.freeze({ program: null, name: 'Metronome' }),
} satisfies Record<Instrument, GeneralMidi>);

/**
 * The channel of each part, counted from 0. Percussion keys sound on the tenth (General MIDI), the click
 * among them; the others are our choice.
 */
export const MIDI_CHANNELS: Readonly<Record<Part, number>> = Object.freeze({
  comp: 0,
  bass: 1,
  drums: 9,
  click: 9,
  lead: 2,
});
