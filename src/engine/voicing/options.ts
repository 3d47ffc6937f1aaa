import type { Chord, Degree } from '../harmony/index.ts';
import { setAmong, type CandidateSet } from './candidates.ts';
import { WEIGHTS, type Weights } from './cost.ts';
import { STYLES } from './data.ts';
import type { Voicing, VoicingStyle } from './types.ts';

export interface LeadOptions {
  readonly style: VoicingStyle;
  /** The sounding chord to lead on from; null or left out at the start of the music. */
  readonly from?: Voicing | null;
  /** Whether the last attack leads round to the first. */
  readonly loop: boolean;
  /** Chooses among ways that cost nearly the same; the plain optimum when left out. */
  readonly seed?: number;
  /** Counted from 0; another round, another choice among the near-equal. */
  readonly round?: number;
  /** How much two ways may differ and still be near-equal, in semitones an attack; {@link VARIETY} when left out. */
  readonly variety?: number;
  readonly weights?: Weights;
  /** Lowest and highest MIDI key; the style's own when left out. */
  readonly range?: { readonly low: number; readonly high: number };
  /** MIDI key about which the middle of the chords rests; the style's own when left out. */
  readonly centre?: number;
  /**
   * The voicings to choose among for a chord, in place of the style's own, and the tensions its place
   * calls for where they are not the table's. Must be pure.
   */
  readonly among?: (chord: Chord, tensions?: readonly Degree[]) => readonly Voicing[];
}

/** Our choice, because less is not heard as another way and more takes away the line. */
export const VARIETY = 2;

/** The options with everything left out filled in. */
export interface Settings {
  readonly style: VoicingStyle;
  readonly from: Voicing | null;
  readonly loop: boolean;
  readonly weights: Weights;
  readonly range?: { readonly low: number; readonly high: number };
  readonly seed: number | null;
  readonly round: number;
  readonly variety: number;
  readonly among: Among | null;
  readonly centre: number;
}

export function settingsOf(options: LeadOptions): Settings {
  return {
    style: options.style,
    from: options.from ?? null,
    loop: options.loop,
    weights: options.weights ?? WEIGHTS,
    ...(options.range && { range: options.range }),
    seed: options.seed ?? null,
    round: options.round ?? 0,
    variety: options.variety ?? VARIETY,
    centre: options.centre ?? STYLES[options.style].centre,
    among: options.among === undefined ? null : remembering(options.among),
  };
}

type Among = (chord: Chord, tensions: readonly Degree[] | undefined) => CandidateSet;

/** Asks once for each chord and its tensions. */
function remembering(among: NonNullable<LeadOptions['among']>): Among {
  const sets = new Map<string, CandidateSet>();
  return (chord, tensions) => {
    const name = `${chord.root}/${chord.bass} ${chord.degrees.join()} ${tensions?.join()}`;
    const set = sets.get(name) ?? setAmong(chord, among(chord, tensions));
    sets.set(name, set);
    return set;
  };
}
