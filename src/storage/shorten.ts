import { isObject, type JsonObject } from './json.ts';

/**
 * A chart file's fields under one letter each, for links. The table is part of the format: a letter
 * never changes its meaning. The `x` holds what a newer version has added, under its own names.
 */
const LETTERS = {
  title: 't',
  chart: 'c',
  key: 'k',
  band: 'b',
  treatments: 'p',
  rules: 'r',
  loop: 'l',
  scales: 's',
  mix: 'm',
  tags: 'g',
  words: 'w',
  source: 'o',
  licence: 'y',
  tempo: 'T',
  feel: 'F',
  swing: 'S',
  voicing: 'V',
  density: 'D',
  intensity: 'I',
  seed: 'R',
  kind: 'K',
  bar: 'B',
  beat: 'A',
  beats: 'L',
  when: 'W',
  id: 'N',
  every: 'E',
  chance: 'C',
  on: 'O',
  extent: 'X',
  first: '1',
  last: '9',
  bars: 'M',
  scale: 'Y',
  hits: 'h',
  sign: 'G',
  by: 'H',
  stop: 'P',
  comp: '2',
  bass: '3',
  drums: '4',
  click: '5',
  lead: '8',
  level: '6',
  mute: '7',
  practice: 'z',
  rounds: 'n',
  drills: 'd',
  forms: 'f',
  form: 'u',
  position: 'v',
  printed: 'j',
} as const;

const TO_LETTER: ReadonlyMap<string, string> = new Map(Object.entries(LETTERS));
const TO_NAME: ReadonlyMap<string, string> = new Map(
  Object.entries(LETTERS).map(([name, letter]) => [letter, name]),
);

/** The same value with every name that is in the table replaced by its letter. */
export const shorten = (value: unknown): unknown => rename(value, TO_LETTER);

/** The same value with every letter replaced by its name. */
export const lengthen = (value: unknown): unknown => rename(value, TO_NAME);

function rename(value: unknown, names: ReadonlyMap<string, string>): unknown {
  if (Array.isArray(value)) return value.map((item) => rename(item, names));
  if (!isObject(value)) return value;
  return Object.fromEntries(
    Object.entries(value).map(([name, field]) => [names.get(name) ?? name, rename(field, names)]),
  );
}

/** `value` without the fields that are the same in `usual`, groups of fields taken apart. */
export function without(value: JsonObject, usual: JsonObject): JsonObject {
  const kept: [string, unknown][] = [];
  for (const [name, field] of Object.entries(value)) {
    const same = Object.hasOwn(usual, name) ? usual[name] : undefined;
    if (JSON.stringify(field) === JSON.stringify(same)) continue;
    kept.push([name, isObject(field) && isObject(same) ? without(field, same) : field]);
  }
  return Object.fromEntries(kept);
}
