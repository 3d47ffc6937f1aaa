import type { Instrument } from '../types.ts';
import manifest from '../samples/manifest.json';

/** One sound in an instrument's file. */
export interface Entry {
  readonly key: number;
  /** Frames from the pulse at the head of the file to the first audible frame, and how many follow. */
  readonly start: number;
  readonly frames: number;
  /** Factor that restores its level beside the instrument's other sounds. */
  readonly gain: number;
  /** How far the recording lies above equal temperament. */
  readonly cents: number;
  /** Both channels are so alike that one will do. */
  readonly mono: boolean;
}

/** The rate the entries count in, Hz, and the frame at which the encoder was given the pulse. */
export const { rate: RATE, pulse: PULSE } = manifest;

export const entriesOf = (instrument: Instrument): readonly Entry[] =>
  manifest.instruments[instrument].sounds;

const urls = import.meta.glob<string>('../samples/*.mp3', { query: '?url', import: 'default', eager: true });

/** Where an instrument's file is served from. */
export function urlOf(instrument: Instrument): string {
  const url = urls[`../samples/${manifest.instruments[instrument].file}`];
  if (url === undefined) throw new RangeError(`no file of sounds for ${instrument}`);
  return url;
}
