import type { Degree, NoteName } from '../harmony/index.ts';
import type { Midi } from '../units/index.ts';

export type VoicingStyle = 'rootless' | 'drop-2' | 'drop-3' | 'shell' | 'fourths';

/** Four notes, lowest first, each with its spelling and its degree over the chord. */
export interface Voicing {
  readonly pitches: readonly Midi[];
  readonly names: readonly NoteName[];
  readonly degrees: readonly Degree[];
}
