import type { Ticks } from '../units/index.ts';

/** The colours a dominant can be given. */
export type TreatmentKind =
  | 'altered'
  | 'flat-nine'
  | 'flat-nine-flat-thirteen'
  | 'sharp-eleven'
  | 'whole-tone'
  | 'suspended-first'
  | 'tritone-substitute'
  | 'plain';

/** In which rounds (choruses or loops, counted from 0) a treatment sounds. */
export type When =
  | { readonly type: 'always' }
  /** Every nth round: those where (round + 1) is divisible by `nth` (every second: rounds 1, 3, 5 …). */
  | { readonly type: 'every'; readonly nth: number }
  /** By chance, 0 to 1, drawn from the seed for each round and place. */
  | { readonly type: 'chance'; readonly chance: number };

/** Placed by hand on a written bar. Sounds at every pass of that bar, wherever a dominant lies under it. */
export interface PlacedTreatment {
  readonly id: string;
  readonly kind: TreatmentKind;
  /** Index of the written bar. */
  readonly bar: number;
  /** From the start of that bar; may reach beyond its end into the next bars. */
  readonly at: Ticks;
  readonly length: Ticks;
  readonly when: When;
}

/** Which dominants a rule speaks of. */
export type RuleScope =
  /** Dominants whose root falls a fifth to the next chord's root. */
  | 'falling-fifth'
  /** Those of them that resolve elsewhere than to the home key's tonic. */
  | 'secondary'
  /** Dominants that resolve down a semitone. */
  | 'falling-semitone'
  | 'every-dominant';

/** How much of the dominant a rule treats. */
export type Extent =
  | { readonly type: 'whole' }
  | { readonly type: 'first'; readonly length: Ticks }
  | { readonly type: 'last'; readonly length: Ticks };

export interface TreatmentRule {
  readonly id: string;
  readonly kind: TreatmentKind;
  readonly scope: RuleScope;
  readonly extent: Extent;
  /** Only in these bars of the form, counted from 1; null for all. */
  readonly bars: readonly number[] | null;
  readonly when: When;
}

/** A live touch: from `at` (on the round's beat line) for `length`, over whatever dominant lies there. */
export interface Touch {
  readonly at: Ticks;
  readonly length: Ticks;
  readonly kind: TreatmentKind;
}
