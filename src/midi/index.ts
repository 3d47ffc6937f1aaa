/** Web MIDI out: the band's parts to an instrument outside the page, in time with what is heard. */
export { midiOutput } from './output.ts';
