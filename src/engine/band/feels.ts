import swing from '../../../presets/feels/swing.json' with { type: 'json' };
import { readFeel, type Feel } from './feel.ts';

/**
 * Every feel the band knows, by id, in the order a player would look for them. The data, with its
 * sources, stands in `presets/feels`; a new feel is a new file there and a name in this list.
 */
export const FEELS: ReadonlyMap<string, Feel> = new Map(
  [swing].map((data) => {
    const feel = readFeel(data);
    if (!feel.ok) throw new RangeError(`a feel in presets/feels cannot be read: ${feel.error}`);
    return [feel.value.id, feel.value];
  }),
);

/**
 * The feel called `id`.
 * @throws RangeError when there is none
 */
export function feelCalled(id: string): Feel {
  const feel = FEELS.get(id);
  if (feel === undefined) {
    throw new RangeError(`no feel is called "${id}"; there are ${[...FEELS.keys()].join(', ')}`);
  }
  return feel;
}
