import { selectionOf } from './candidates.ts';
import { repeatCost, staysAtTheTop, stepCost } from './cost.ts';
import { leadInto } from './joining.ts';
import { layersOf, type Attack } from './layers.ts';
import { settingsOf, type LeadOptions } from './options.ts';
import type { Voicing } from './types.ts';

/** Weighs paths of voicings. */
export interface Judge {
  /** The voicings each attack may take. */
  readonly candidates: readonly (readonly Voicing[])[];
  /**
   * What a path costs.
   * @throws RangeError when a voicing is no candidate of its attack
   */
  cost(path: readonly Voicing[]): number;
}

/**
 * What paths over these attacks cost by the weights, added up attack by attack from the rules alone.
 * It shares the terms with the search and none of its method.
 */
export function pathJudge(attacks: readonly Attack[], options: LeadOptions): Judge {
  const settings = settingsOf(options);
  const { weights, from, loop } = settings;
  const layers = layersOf(attacks, settings);
  const count = layers.length;
  const index = layers.map(({ set }) => new Map(set.list.map(({ voicing }, i) => [keysOf(voicing), i])));
  const lead = count === 0 ? null : leadInto(layers[0]!, settings);
  const sounding = from === null || count === 0 ? null : known(from);

  function known(voicing: Voicing) {
    const { set } = layers[0]!;
    const selection = selectionOf(voicing, set);
    return { voicing, selection, heard: set.selections[selection]?.heard ?? 0 };
  }

  const cost = (path: readonly Voicing[]): number => {
    const chosen = layers.map((_, i) => {
      const found = index[i]!.get(keysOf(path[i]!));
      if (found === undefined) {
        throw new RangeError(`${keysOf(path[i]!)} is no candidate of ${attacks[i]!.chord.text}, attack ${i}`);
      }
      return found;
    });
    const at = (i: number) => layers[i]!.set.list[chosen[i]!]!;
    /** What is struck so many attacks before `i`: of the path, round the loop, or the sounding chord. */
    const before = (i: number, back: number) => {
      if (i >= back) return at(i - back);
      if (loop) return at((i - back + 2 * count) % count);
      return i - back === -1 ? sounding : null;
    };
    let sum = loop ? (lead?.cost[chosen[0]!] ?? 0) : 0;
    layers.forEach((layer, i) => {
      const [now, last, older] = [at(i), before(i, 1), before(i, 2)];
      sum += layer.own[chosen[i]!]!;
      if (last === null) return;
      const { set, stays, answers, weight } = layer;
      const same = stays && last.selection === now.selection;
      sum += stepCost(last.voicing, now.voicing, stays, weights);
      sum += weight * repeatCost(last.voicing, now.voicing, same, weights);
      if (stays && answers && (last.heard | now.heard) !== set.toHear) sum += weights.unheard;
      if (older === null) return;
      const heldBefore = staysAtTheTop(older.voicing.pitches, last.voicing.pitches);
      const heldNow = staysAtTheTop(last.voicing.pitches, now.voicing.pitches);
      if (heldBefore && heldNow) sum += weight * weights.topLongStay;
      if (!stays || !layers[(i - 1 + count) % count]!.stays) return;
      if (older.selection === now.selection && !same) sum += weight * weights.toAndFro;
      if ((older.heard | last.heard | now.heard) !== set.toHear) sum += weights.unheard;
    });
    return sum;
  };
  return { candidates: layers.map(({ set }) => set.list.map(({ voicing }) => voicing)), cost };
}

const keysOf = ({ pitches }: Voicing): string => pitches.join(' ');

/**
 * What one path costs, as {@link pathJudge} says.
 * @throws RangeError when a voicing is no candidate of its attack
 */
export const pathCost = (
  attacks: readonly Attack[],
  path: readonly Voicing[],
  options: LeadOptions,
): number => pathJudge(attacks, options).cost(path);
