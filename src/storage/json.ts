import { fail, ok, type Result, type Trouble } from '../engine/index.ts';

export type JsonObject = Readonly<Record<string, unknown>>;

/** The longest chart file that is read or written, in characters; no chart comes near it. */
export const MOST_CHARACTERS = 4_000_000;
/** A chart file is four levels deep; what newer versions add beside it may go deeper. */
const MOST_LEVELS = 40;

const DAMAGED: Trouble = {
  message: 'This is no complete chart file.',
  remedy: 'Fetch or save the file once more.',
};
const FOREIGN: Trouble = {
  message: 'The file holds something else than a chart.',
  remedy: 'Choose a file that was saved here.',
};
const TOO_LARGE: Trouble = {
  message: 'The file is larger than a chart file can be.',
  remedy: 'Choose a file that was saved here.',
};

/**
 * The object a JSON text holds. Never throws; refuses what is too long or nested too deeply to be
 * walked safely.
 */
export function parseObject(text: string, most = MOST_CHARACTERS): Result<JsonObject, Trouble> {
  if (text.length > most) return fail(TOO_LARGE);
  const bare = text.charCodeAt(0) === 0xfeff ? text.slice(1) : text;
  if (levels(bare) > MOST_LEVELS) return fail(FOREIGN);
  try {
    const value: unknown = JSON.parse(bare);
    return isObject(value) ? ok(value) : fail(FOREIGN);
  } catch {
    return fail(DAMAGED);
  }
}

export function isObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** How deep the brackets outside strings go. */
function levels(text: string): number {
  let depth = 0;
  let deepest = 0;
  let inString = false;
  for (let i = 0; i < text.length; i++) {
    const char = text[i];
    if (char === '"') inString = !inString;
    else if (inString) i += char === '\\' ? 1 : 0;
    else if (char === '{' || char === '[') deepest = Math.max(deepest, ++depth);
    else if (char === '}' || char === ']') depth--;
  }
  return deepest;
}

/** A list or group longer than this is written over several lines. */
const LONGEST_LINE = 100;

/**
 * JSON with one field of the object a line and one item of a long list a line, so that it reads as a
 * table. Parsing it gives the same value as `JSON.stringify`.
 */
export function printObject(value: JsonObject): string {
  const lines = Object.entries(value).map(([name, field]) => `  ${JSON.stringify(name)}: ${block(field)}`);
  return `{\n${lines.join(',\n')}\n}\n`;
}

function block(field: unknown): string {
  const line = inline(field);
  const isTable = Array.isArray(field) && field.some((item) => typeof item === 'object' && item !== null);
  if (!isTable && line.length <= LONGEST_LINE) return line;
  if (Array.isArray(field)) return `[\n${field.map((item) => `    ${inline(item)}`).join(',\n')}\n  ]`;
  return isObject(field)
    ? `{\n${named(field)
        .map((part) => `    ${part}`)
        .join(',\n')}\n  }`
    : line;
}

function named(value: JsonObject): readonly string[] {
  return Object.entries(value).map(([name, field]) => `${JSON.stringify(name)}: ${inline(field)}`);
}

function inline(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(inline).join(', ')}]`;
  if (!isObject(value)) return JSON.stringify(value);
  const fields = named(value);
  return fields.length === 0 ? '{}' : `{ ${fields.join(', ')} }`;
}
