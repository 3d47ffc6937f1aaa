import { selectionOf } from './candidates.ts';
import { repeatCost, staysAtTheTop, stepCost } from './cost.ts';
import type { Layer } from './layers.ts';
import type { Settings } from './options.ts';

/** What leads into the first attack: a cost for each of its candidates, and what is remembered. */
export interface Lead {
  readonly cost: Float64Array;
  /** Whether the top voice stays on the way into each. */
  readonly held: readonly boolean[];
  /** The four-note choice that sounds, where it is one of the first attack's own chord; else 0. */
  readonly choice: number;
}

/** What leading on from the sounding chord costs for each candidate of the first attack. */
export function leadInto(first: Layer, { from, loop, weights }: Settings): Lead {
  const { list, toHear, selections } = first.set;
  if (from === null) return { cost: new Float64Array(list.length), held: list.map(() => false), choice: 0 };
  const choice = selectionOf(from, first.set);
  const stays = choice >= 0;
  const answers = stays && (first.answers || loop);
  const cost = Float64Array.from(list, ({ voicing, selection, heard }) => {
    const short = answers && (selections[choice]!.heard | heard) !== toHear;
    return (
      stepCost(from, voicing, stays, weights) +
      first.weight * repeatCost(from, voicing, stays && selection === choice, weights) +
      (short ? weights.unheard : 0)
    );
  });
  return {
    cost,
    held: list.map(({ voicing }) => staysAtTheTop(from.pitches, voicing.pitches)),
    choice: Math.max(0, choice),
  };
}
