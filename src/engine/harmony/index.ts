export * from './types.ts';
export * from './changes.ts';
export { makeChord } from './symbol/make.ts';
export { CHORD_STYLES, printChord, type ChordStyle } from './symbol/print.ts';
export { intervalOf, readable, transposeChord } from './transpose.ts';
export { TRANSPOSING, transposedFor, type Transposing, type TransposingId } from './transposing.ts';
export { readHarmony, writeHarmony, type Harmony, type HarmonyDegree } from './musicxml/convert.ts';
export { readChord, isNoChord } from './symbol/read.ts';
export {
  chordBass,
  chordName,
  chordPitchClasses,
  guideTones,
  hasDegree,
  isDominant,
  roleOf,
} from './chord.ts';
export { resolution, type Resolution } from './resolution.ts';
export {
  commonName,
  degreeInterval,
  degreeSemitones,
  intervalBetween,
  pitchClass,
  plainName,
  prettyDegree,
  prettyName,
  prettyText,
  spell,
  transposeName,
  type Interval,
} from './names.ts';
export { homeKey, readKeys, vampKey } from './function/keys.ts';
export type { FunctionKind, FunctionReading, HarmonicRole, Key, Mode } from './function/types.ts';
