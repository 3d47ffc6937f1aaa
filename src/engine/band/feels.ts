import { fail, ok, type Result } from '../units/index.ts';
import { FEEL_FILES } from './feel-files.ts';
import { readFeel, withBase, type Feel } from './feel.ts';
import { LAST_PLACE } from './last-place.ts';

/**
 * Reads feels that may lean on one another.
 * @returns the feels by id in their order, or one sentence saying what is wrong
 */
export function readFeels(data: readonly unknown[]): Result<ReadonlyMap<string, Feel>, string> {
  const feels = readLeaning(data);
  if (!feels.ok) return feels;
  for (const { id, inTwo } of feels.value.values()) {
    if (inTwo !== null && !feels.value.has(inTwo)) {
      return fail(`${id} is played in two as "${inTwo}", which is not there`);
    }
  }
  return feels;
}

function readLeaning(data: readonly unknown[]): Result<ReadonlyMap<string, Feel>, string> {
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

/** What of a feel is known without reading it. */
interface Head {
  readonly id: string;
  readonly name: string;
  readonly order?: number;
  readonly otherwise?: string;
}

const HEADS: ReadonlyMap<string, Head> = new Map(
  (FEEL_FILES as readonly Head[])
    .toSorted((a, b) => (a.order ?? LAST_PLACE) - (b.order ?? LAST_PLACE))
    .map((head) => [head.id, head]),
);
const wholes = new Map<string, Feel>();

/** A feel of ours with all that it leans on; read once, when it is first asked for. */
function wholeFeel(id: string): Feel {
  const known = wholes.get(id);
  if (known !== undefined) return known;
  const chain = new Set<Head>();
  for (
    let head = HEADS.get(id);
    head !== undefined && !chain.has(head);
    head = HEADS.get(head.otherwise ?? '')
  )
    chain.add(head);
  const feels = readLeaning([...chain]);
  const feel = feels.ok ? feels.value.get(id) : undefined;
  if (feel === undefined) {
    throw new RangeError(`the feel "${id}" in presets/feels cannot be read: ${feels.ok ? '' : feels.error}`);
  }
  wholes.set(id, feel);
  return feel;
}

/** Only its name is there at once: to read all feels takes as long as the rest of a page's start. */
const onDemand = ({ id, name }: Head): Feel => ({
  id,
  name,
  get source() {
    return wholeFeel(id).source;
  },
  get order() {
    return wholeFeel(id).order;
  },
  get swing() {
    return wholeFeel(id).swing;
  },
  get kit() {
    return wholeFeel(id).kit;
  },
  get otherwise() {
    return wholeFeel(id).otherwise;
  },
  get inTwo() {
    return wholeFeel(id).inTwo;
  },
  get comp() {
    return wholeFeel(id).comp;
  },
  get bass() {
    return wholeFeel(id).bass;
  },
  get drums() {
    return wholeFeel(id).drums;
  },
});

/**
 * Every feel the band knows, by id, in the order a player looks for them. The data, with its sources,
 * stands in `presets/feels`; a new feel is a new file there.
 */
export const FEELS: ReadonlyMap<string, Feel> = new Map(
  [...HEADS.values()].map((head) => [head.id, onDemand(head)]),
);

/**
 * The feel called `id`.
 * @throws RangeError when there is none
 */
export function feelCalled(id: string): Feel {
  if (!HEADS.has(id)) {
    throw new RangeError(`no feel is called "${id}"; there are ${[...HEADS.keys()].join(', ')}`);
  }
  return wholeFeel(id);
}
