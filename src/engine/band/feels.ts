import { fail, ok, type Result } from '../units/index.ts';
import { FEEL_FILES } from './feel-files.ts';
import { readFeel, withBase, type Feel } from './feel.ts';

/**
 * Reads feels that may lean on one another.
 * @returns the feels by id in their order, or one sentence saying what is wrong
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
  for (const feel of [...read.values()].sort((a, b) => a.order - b.order)) {
    const chain = chainOf(feel, read);
    if (typeof chain === 'string') return fail(chain);
    feels.set(
      feel.id,
      chain.reduceRight((base, each) => withBase(each, base)),
    );
  }
  for (const { id, inTwo } of feels.values()) {
    if (inTwo !== null && !feels.has(inTwo)) {
      return fail(`${id} is played in two as "${inTwo}", which is not there`);
    }
  }
  return ok(feels);
}

/** A feel with those it leans on, nearest first; or one sentence saying why they cannot be had. */
function chainOf(feel: Feel, all: ReadonlyMap<string, Feel>): readonly Feel[] | string {
  const chain = [feel];
  for (let last = feel; last.otherwise !== null; last = chain.at(-1)!) {
    const base = all.get(last.otherwise);
    if (base === undefined) return `${last.id} leans on "${last.otherwise}", which is not there`;
    if (chain.includes(base)) return `${last.id} leans on "${base.id}", which leans on it`;
    chain.push(base);
  }
  return chain;
}

/**
 * Every feel the band knows, by id, in the order a player looks for them. The data, with its sources,
 * stands in `presets/feels`; a new feel is a new file there.
 */
export const FEELS: ReadonlyMap<string, Feel> = (() => {
  const feels = readFeels(FEEL_FILES);
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
