import type { CandidateSet } from './candidates.ts';
import { repeatCost, stepCost, type Weights } from './cost.ts';
import type { Layer } from './layers.ts';

/** What it costs to come into a layer from the one before. */
export interface Steps {
  /** Without memory: from each candidate of the layer before into each of this one, row by row. */
  readonly into: Float64Array;
  /**
   * With memory: a choice after two others, `(older * choices of the layer before + last) * choices + new`,
   * where `older` is 0 unless the layer before stayed on its chord.
   */
  readonly after: Float64Array;
}

type BySet<T> = WeakMap<CandidateSet, T>;
const known = new WeakMap<Weights, BySet<BySet<Map<string, Steps>>>>();

/** The steps between two layers. The same chords by the same weights are worked out once. */
export function stepsInto(before: Layer, layer: Layer, weights: Weights): Steps {
  const from = entry(known, weights, () => new WeakMap<CandidateSet, BySet<Map<string, Steps>>>());
  const to = entry(from, before.set, () => new WeakMap<CandidateSet, Map<string, Steps>>());
  const kinds = entry(to, layer.set, () => new Map<string, Steps>());
  return entry(kinds, `${before.stays}${layer.stays}${layer.answers}${layer.weight}`, () => ({
    into: candidatesInto(before.set, layer, weights),
    after: choicesAfter(before, layer, weights),
  }));
}

/** A map's entry, made when it is missing. */
function entry<K, V>(
  map: { get(key: K): V | undefined; set(key: K, value: V): unknown },
  key: K,
  make: () => V,
): V {
  const found = map.get(key);
  if (found !== undefined) return found;
  const made = make();
  map.set(key, made);
  return made;
}

function candidatesInto(before: CandidateSet, layer: Layer, weights: Weights): Float64Array {
  const { set, stays, answers, weight } = layer;
  const costs = new Float64Array(before.list.length * set.list.length);
  before.list.forEach((from, a) =>
    set.list.forEach((to, b) => {
      const same = stays && from.selection === to.selection;
      const short = stays && answers && (from.heard | to.heard) !== set.toHear;
      costs[a * set.list.length + b] =
        stepCost(from.voicing, to.voicing, stays, weights) +
        weight * repeatCost(from.voicing, to.voicing, same, weights) +
        (short ? weights.unheard : 0);
    }),
  );
  return costs;
}

/** Nothing is remembered over a change of chord. */
function choicesAfter(before: Layer, { set, stays, weight }: Layer, weights: Weights): Float64Array {
  const lastCount = before.set.selections.length;
  const count = set.selections.length;
  const costs = new Float64Array((before.stays ? lastCount : 1) * lastCount * count);
  if (!before.stays || !stays) return costs;
  const heard = set.selections.map((selection) => selection.heard);
  for (let i = 0; i < costs.length; i++) {
    const [older, last, now] = [Math.floor(i / count / count), Math.floor(i / count) % count, i % count];
    const back = older === now && last !== now ? weight * weights.toAndFro : 0;
    const sounded = heard[older]! | heard[last]! | heard[now]!;
    costs[i] = back + (sounded !== set.toHear ? weights.unheard : 0);
  }
  return costs;
}
