import * as v from 'valibot';
import { isObject, type JsonObject } from './json.ts';
import type { Notices } from './notices.ts';
import { MOST_ITEMS } from './schema.ts';

type Fields = v.ObjectEntries;
type Output<F extends Fields> = v.InferOutput<v.ObjectSchema<F, undefined>>;
type Values<F extends Fields> = Partial<Output<F>>;

/** The fields of `raw` that are what they should be. */
export function readFields<F extends Fields>(
  raw: JsonObject,
  fields: F,
  place: string,
  notices: Notices,
): Values<F> {
  const values: [string, unknown][] = [];
  for (const [name, schema] of Object.entries(fields)) {
    if (!Object.hasOwn(raw, name)) continue;
    const read = v.safeParse(schema, raw[name]);
    if (read.success) values.push([name, read.output]);
    else notices.refuse(place === '' ? name : `${place}, ${name}`, raw[name], wanted(schema));
  }
  return Object.fromEntries(values) as Values<F>;
}

/** As {@link readFields}, of a value that should be a group of fields; none where it is absent. */
export function readObject<F extends Fields>(
  raw: unknown,
  fields: F,
  place: string,
  notices: Notices,
): Values<F> {
  if (raw === undefined) return {};
  if (!isObject(raw)) {
    notices.refuse(place, raw, 'a group of fields');
    return {};
  }
  reportUnknown(raw, fields, place, notices);
  return readFields(raw, fields, place, notices);
}

/** Says which fields of `raw` are not among `fields`. */
export function reportUnknown(raw: JsonObject, fields: object, place: string, notices: Notices): void {
  for (const name of Object.keys(raw)) {
    if (!Object.hasOwn(fields, name)) notices.add(`${place}, ${name}`, 'is not known here and was left out');
  }
}

/** The items of a list that are what they should be, each made into a `T`. */
export function readItems<F extends Fields, T>(
  raw: unknown,
  item: v.ObjectSchema<F, undefined>,
  place: string,
  notices: Notices,
  make: (item: Output<F>, index: number, place: string) => T | null,
): readonly T[] {
  if (raw === undefined) return [];
  if (!Array.isArray(raw)) {
    notices.refuse(place, raw, 'a list');
    return [];
  }
  if (raw.length > MOST_ITEMS) notices.add(place, `has ${raw.length} items; ${MOST_ITEMS} were read`);
  return raw.slice(0, MOST_ITEMS).flatMap((one: unknown, index) => {
    const where = `${place}, item ${index + 1}`;
    const read = v.safeParse(item, one);
    if (!read.success) {
      const [issue] = read.issues;
      const key = issue.path?.[0]?.key;
      const field = typeof key === 'string' ? key : '';
      const schema = Object.hasOwn(item.entries, field) ? item.entries[field] : undefined;
      const value = isObject(one) && Object.hasOwn(one, field) ? one[field] : undefined;
      if (schema === undefined) notices.refuse(where, one, 'a group of fields');
      else notices.refuse(`${where}, ${field}`, value, wanted(schema));
      return [];
    }
    if (isObject(one)) reportUnknown(one, item.entries, where, notices);
    const made = make(read.output, index, where);
    return made === null ? [] : [made];
  });
}

/** What a field should be, in the schema's own words. */
function wanted(schema: v.GenericSchema | v.ObjectEntries[string]): string {
  const inner = (schema as { wrapped?: v.GenericSchema }).wrapped ?? schema;
  return v.getDescription(inner) ?? 'something else';
}
