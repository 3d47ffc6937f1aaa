import ballad from '../../../presets/feels/ballad.json' with { type: 'json' };
import bossa from '../../../presets/feels/bossa.json' with { type: 'json' };
import fiveFour from '../../../presets/feels/five-four.json' with { type: 'json' };
import jazzWaltz from '../../../presets/feels/jazz-waltz.json' with { type: 'json' };
import shuffle from '../../../presets/feels/shuffle.json' with { type: 'json' };
import straightEighths from '../../../presets/feels/straight-eighths.json' with { type: 'json' };
import straightSixteenths from '../../../presets/feels/straight-sixteenths.json' with { type: 'json' };
import swing from '../../../presets/feels/swing.json' with { type: 'json' };
import twoFeel from '../../../presets/feels/two-feel.json' with { type: 'json' };
import { fail, ok, type Result } from '../units/index.ts';
import { readFeel, withBase, type Feel } from './feel.ts';

/** In the order a player would look for them. */
const DATA: readonly unknown[] = [
  swing,
  twoFeel,
  ballad,
  bossa,
  straightEighths,
  jazzWaltz,
  fiveFour,
  shuffle,
  straightSixteenths,
];

/**
 * Reads feels that may lean on one another.
 * @returns the feels by id in the order given, or one sentence saying what is wrong
 */
export function readFeels(data: readonly unknown[]): Result<ReadonlyMap<string, Feel>, string> {
  const read = new Map<string, Feel>();
  for (const each of data) {
    const feel = readFeel(each);
    if (!feel.ok) return feel;
    if (read.has(feel.value.id)) return fail(`two feels are called "${feel.value.id}"`);
    read.set(feel.value.id, feel.value);
  }
  const feels = new Map<string, Feel>();
  for (const feel of read.values()) {
    if (feel.otherwise === null) {
      feels.set(feel.id, feel);
      continue;
    }
    const base = read.get(feel.otherwise);
    if (base === undefined) return fail(`${feel.id} leans on "${feel.otherwise}", which is not there`);
    feels.set(feel.id, withBase(feel, base));
  }
  for (const { id, inTwo } of feels.values()) {
    if (inTwo !== null && !feels.has(inTwo)) {
      return fail(`${id} is played in two as "${inTwo}", which is not there`);
    }
  }
  return ok(feels);
}

/**
 * Every feel the band knows, by id. The data, with its sources, stands in `presets/feels`; a new feel is
 * a new file there and a name in the list above.
 */
export const FEELS: ReadonlyMap<string, Feel> = (() => {
  const feels = readFeels(DATA);
  if (!feels.ok) throw new RangeError(`a feel in presets/feels cannot be read: ${feels.error}`);
  return feels.value;
})();

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
