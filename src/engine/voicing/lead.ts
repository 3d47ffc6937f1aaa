import {
  repeatCost,
  stepCost,
  layersOf,
  selectionOf,
  type Attack,
  type Layer,
  type LayerOptions,
} from './layers.ts';
import { staysAtTheTop, WEIGHTS, type Weights } from './cost.ts';
import { closedPath, openPath, type Lead } from './search.ts';
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
}

/** Our choice, because less is not heard as another way and more takes away the line. */
export const VARIETY = 2;

/**
 * Voices for all attacks at once: the path of least cost by {@link WEIGHTS}, exactly. With `loop`
 * the way from the last attack back to the first counts as any other; with `from` as well, the first
 * attack is also led on from there. To lead into what follows the last attack, append its chord as
 * one more attack and leave its voicing out.
 * @returns one voicing for each attack
 * @throws RangeError when the range is too narrow for every chord
 */
export function leadVoicings(attacks: readonly Attack[], options: LeadOptions): readonly Voicing[] {
  if (attacks.length === 0) return [];
  const full = fullOptions(options);
  const layers = layersOf(attacks, full);
  const lead = leadInto(layers[0]!, full);
  const path = options.loop
    ? closedPath([withLead(layers[0]!, lead), ...layers.slice(1)], full.weights)
    : openPath(layers, full.weights, lead);
  return path.map((index, i) => layers[i]!.set.list[index]!.voicing);
}

/**
 * What a path costs by the same weights, added up attack by attack from the rules alone. It shares
 * the terms with the search and none of its method.
 * @param voicings one of the candidates for each attack
 * @throws RangeError when a voicing is no candidate of its attack
 */
export function pathCost(
  attacks: readonly Attack[],
  voicings: readonly Voicing[],
  options: LeadOptions,
): number {
  const full = fullOptions(options);
  const { weights, from, loop } = full;
  const layers = layersOf(attacks, full);
  const count = layers.length;
  const chosen = layers.map(({ set }, i) => {
    const found = set.list.findIndex(({ voicing }) => voicing === voicings[i]);
    if (found < 0)
      throw new RangeError(`the voicing of attack ${i} is no candidate of ${attacks[i]!.chord.text}`);
    return found;
  });
  const at = (i: number) => layers[i]!.set.list[chosen[i]!]!;
  /** The candidate `back` attacks before `i`, the sounding chord, or nothing. */
  const before = (i: number, back: number) => {
    const index = i - back;
    if (index >= 0) return at(index);
    if (loop) return at(((index % count) + count) % count);
    if (index < -1 || from === null) return null;
    const { set } = layers[0]!;
    const selection = selectionOf(from, set);
    return { voicing: from, selection, heard: set.selections[selection]?.heard ?? 0 };
  };
  let sum = loop && from !== null ? leadInto(layers[0]!, full).cost[chosen[0]!]! : 0;
  layers.forEach((layer, i) => {
    const [now, last, older] = [at(i), before(i, 1), before(i, 2)];
    sum += layer.own[chosen[i]!]!;
    if (last === null) return;
    const { set, stays, answers, weight } = layer;
    const same = stays && last.selection === now.selection;
    sum +=
      stepCost(last.voicing, now.voicing, stays, weights) +
      repeatCost(last.voicing, now.voicing, same, weight, weights);
    if (stays && answers && (last.heard | now.heard) !== set.toHear) sum += weights.unheard;
    if (older === null) return;
    if (
      staysAtTheTop(older.voicing.pitches, last.voicing.pitches) &&
      staysAtTheTop(last.voicing.pitches, now.voicing.pitches)
    ) {
      sum += weight * weights.topLongStay;
    }
    const stayedBefore = layers[(i - 1 + count) % count]!.stays;
    if (!stays || !stayedBefore) return;
    if (older.selection === now.selection && !same) sum += weight * weights.toAndFro;
    if ((older.heard | last.heard | now.heard) !== set.toHear) sum += weights.unheard;
  });
  return sum;
}

function fullOptions(options: LeadOptions): LayerOptions {
  return {
    style: options.style,
    from: options.from ?? null,
    loop: options.loop,
    weights: options.weights ?? WEIGHTS,
    ...(options.range && { range: options.range }),
    seed: options.seed ?? null,
    round: options.round ?? 0,
    variety: options.variety ?? VARIETY,
  };
}

/** What leading on from the sounding chord costs for each candidate of the first attack. */
function leadInto(first: Layer, { from, loop, weights }: LayerOptions): Lead {
  const { list, toHear, selections } = first.set;
  if (from === null) return { cost: new Float64Array(list.length), held: list.map(() => false), choice: 0 };
  const choice = selectionOf(from, first.set);
  const stays = choice >= 0;
  const answers = stays && (first.answers || loop);
  const cost = Float64Array.from(list, ({ voicing, selection, heard }) => {
    const short = answers && (selections[choice]!.heard | heard) !== toHear;
    return (
      stepCost(from, voicing, stays, weights) +
      repeatCost(from, voicing, stays && selection === choice, first.weight, weights) +
      (short ? weights.unheard : 0)
    );
  });
  return {
    cost,
    held: list.map(({ voicing }) => staysAtTheTop(from.pitches, voicing.pitches)),
    choice: Math.max(0, choice),
  };
}

const withLead = (layer: Layer, lead: Lead): Layer => ({
  ...layer,
  own: layer.own.map((cost, c) => cost + lead.cost[c]!),
});
