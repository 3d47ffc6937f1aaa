import { isDominant, type Chord } from '../harmony/index.ts';
import { findScale, scaleOver } from './scale.ts';
import type { ScaleChoice } from './types.ts';

/** What stands around a chord when scales are chosen for it. */
export interface ScaleContext {
  /** The kind of treatment laid over the chord, e.g. "altered"; null for none. */
  readonly treatment: string | null;
  /** The chord that follows; null at the very end. */
  readonly next: Chord | null;
  readonly previous?: Chord | null;
}

const TREATED: Readonly<Record<string, readonly string[]>> = {
  altered: ['altered', 'half-whole-diminished', 'whole-tone'],
  'flat-nine': ['half-whole-diminished', 'phrygian-dominant', 'altered'],
  'flat-nine-flat-thirteen': ['phrygian-dominant', 'altered', 'half-whole-diminished'],
  'sharp-eleven': ['lydian-dominant', 'whole-tone', 'mixolydian'],
  'tritone-substitute': ['lydian-dominant', 'mixolydian', 'half-whole-diminished'],
  'whole-tone': ['whole-tone', 'lydian-dominant', 'altered'],
  'suspended-first': ['mixolydian', 'dorian', 'bebop-dominant'],
};

/** The scales that fit a chord where it stands, best first. */
export function suggestScales(chord: Chord, context: ScaleContext): readonly ScaleChoice[] {
  return idsFor(chord, context).map((id) => scaleOver(chord, findScale(id)!, ''));
}

function idsFor(chord: Chord, { treatment }: ScaleContext): readonly string[] {
  if (chord.altered) return TREATED['altered']!;
  const treated = treatment !== null && isDominant(chord) ? TREATED[treatment] : undefined;
  if (treated) return treated;
  switch (chord.family) {
    case 'minor':
      return ['dorian', 'melodic-minor', 'aeolian', 'minor-pentatonic'];
    case 'half-diminished':
      return ['locrian-natural-two', 'locrian', 'locrian-natural-six'];
    case 'diminished':
      return ['whole-half-diminished', 'ultralocrian', 'blues'];
    case 'augmented':
      return ['lydian-augmented', 'whole-tone', 'major-sharp-five'];
    case 'dominant':
    case 'suspended':
      return ['mixolydian', 'lydian-dominant', 'bebop-dominant', 'blues'];
    case 'major':
    case 'power':
      return ['major', 'lydian', 'major-pentatonic', 'bebop-major'];
  }
}
