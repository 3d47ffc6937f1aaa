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

/**
 * How a drill is written for the player. Guitar and bass read an octave above where they sound (common practice),
 * so at concert pitch a neck is written for like that; a bass in its own clef.
 */
export function readingFor({ written, spelling, neck }: PreferenceValues): Reading {
  const isNeck = neck.kind === 'neck';
  const isBass = isNeck && neck.tuning[0]! < 34 && neck.tuning.at(-1)! < 50;
  const id = written === 'concert' && isNeck ? 'octave-lower' : written;
  const isOwnOctave = id === 'octave-lower' || id === 'concert';
  return {
    reader: { spelling, written: transposedFor(id) },
    clef: isBass && isOwnOctave ? 'bass' : 'treble',
    says: id === 'octave-lower' ? 'Written an octave above where it sounds.' : null,
  };
}
