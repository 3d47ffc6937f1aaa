import { leadInto, type Lead } from './joining.ts';
import { layersOf, type Attack, type Layer } from './layers.ts';
import { settingsOf, type LeadOptions } from './options.ts';
import { closedPath, openPath } from './search.ts';
import type { Voicing } from './types.ts';

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
  const settings = settingsOf(options);
  const layers = layersOf(attacks, settings);
  const lead = leadInto(layers[0]!, settings);
  const path = options.loop
    ? closedPath([withLead(layers[0]!, lead), ...layers.slice(1)], settings.weights)
    : openPath(layers, settings.weights, lead);
  return path.map((index, i) => layers[i]!.set.list[index]!.voicing);
}

const withLead = (layer: Layer, lead: Lead): Layer => ({
  ...layer,
  own: layer.own.map((cost, c) => cost + lead.cost[c]!),
});
