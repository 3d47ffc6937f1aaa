import { transposedFor, type Reader } from '../../engine/index.ts';
import type { Clef } from '../notation/layout.ts';
import type { PreferenceValues } from '../preferences.svelte.ts';

/** Who reads a drill, and in which clef. */
export interface Reading {
  readonly reader: Reader;
  readonly clef: Clef;
  /** Said beside the sheet; null where it is written as it sounds. */
  readonly says: string | null;
}

/** The highest string of a bass is lower than this, and that of a guitar higher; MIDI keys. */
const BASS = 50;
/** Fretted instruments whose lowest string is lower than this are written an octave higher (common practice). */
const LOW = 55;

/**
 * How a drill is written for the player. Guitar and bass read an octave above where they sound, so at concert
 * pitch a neck is written for like that; a bass in its own clef.
 */
export function readingFor({
  written,
  spelling,
  neck,
}: Pick<PreferenceValues, 'written' | 'spelling' | 'neck'>): Reading {
  const isNeck = neck.kind === 'neck';
  const isBass = isNeck && Math.max(...neck.tuning) < BASS;
  const isLow = isNeck && Math.min(...neck.tuning) < LOW;
  const id = written === 'concert' && isLow ? 'octave-lower' : written;
  const isOwnOctave = id === 'octave-lower' || id === 'concert';
  return {
    reader: { spelling, written: transposedFor(id) },
    clef: isBass && isOwnOctave ? 'bass' : 'treble',
    says: id === 'octave-lower' ? 'Written an octave above where it sounds.' : null,
  };
}
