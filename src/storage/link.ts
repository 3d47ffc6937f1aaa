import {
  fail,
  newProject,
  ok,
  type Notice,
  type Opened,
  type Project,
  type Result,
  type Trouble,
} from '../engine/index.ts';
import { fromBase64Url, toBase64Url } from './base64url.ts';
import { isObject, parseObject, type JsonObject } from './json.ts';
import { mend } from './mend.ts';
import { openPhrases, pressPhrases } from './phrases.ts';
import { fromFile } from './read.ts';
import { FORMAT } from './schema.ts';
import { lengthen, shorten, without } from './shorten.ts';
import { deflate, inflate } from './squeeze.ts';
import { toFile } from './write.ts';

/**
 * A link carries a whole project in the URL's fragment, which never leaves the browser: the version
 * of the format, a full stop, and the chart file's fields that are not the usual ones, under one
 * letter each, as JSON with its commonest phrases shortened, raw deflate (RFC 1951), two bytes to check
 * it by, and base64url (RFC 4648).
 */

/** What a link may hold, inflated, in bytes: far more than a chart, little enough for any device. */
const MOST_BYTES = 1_000_000;

const CHECK_BYTES = 2;

const BROKEN: Trouble = {
  message: 'The link is broken: part of it was lost or changed on the way.',
  remedy: 'Copy the whole link once more, or ask for the chart as a file.',
};
const FOREIGN: Trouble = {
  message: 'The link holds no chart.',
  remedy: 'Copy the whole link once more.',
};
const TOO_LARGE: Trouble = {
  message: 'The link holds more than a chart can be, and was not opened.',
  remedy: 'Ask for the chart as a file.',
};
const CUT_OFF: Notice = {
  place: 'the link',
  message: 'breaks off; what came is here, what comes after it in the link is missing',
};
const CHANGED: Notice = {
  place: 'the link',
  message: 'was changed on the way; look the chart over before you trust it',
};

/**
 * What comes after the `#` of a link that opens `project`. A chart of 32 bars takes under 300 characters.
 */
export async function encodeLink(project: Project): Promise<string> {
  const body = await deflate(new TextEncoder().encode(pressPhrases(JSON.stringify(pack(project)))));
  const bytes = new Uint8Array(body.length + CHECK_BYTES);
  bytes.set(body);
  bytes.set(checkBytes(body), body.length);
  return `${FORMAT}.${toBase64Url(bytes)}`;
}

/**
 * The project in a link's fragment, with or without its `#`. A link that broke off or comes from a
 * newer version opens as far as it can be read, with notices of what is missing. Never throws; the
 * fragment's data is inflated only as far as a chart can go.
 */
export async function decodeLink(fragment: string): Promise<Result<Opened, Trouble>> {
  if (fragment.length > 2 * MOST_BYTES) return fail(TOO_LARGE);
  const match = /^\s*#?([1-9]\d{0,5})\.([\w-]+)/.exec(fragment);
  const bytes = match && fromBase64Url(match[2]!);
  if (!match || !bytes) return fail(FOREIGN);
  const body = bytes.slice(0, Math.max(0, bytes.length - CHECK_BYTES));
  const inflated = await inflate(body, MOST_BYTES);
  if (inflated.end === 'too-large') return fail(TOO_LARGE);
  const text = openPhrases(new TextDecoder().decode(inflated.bytes, { stream: true }));
  const whole = parseObject(text);
  const packed = whole.ok ? whole : parseObject(mend(text));
  if (!packed.ok) return fail(BROKEN);
  const opened = fromFile({ vampwright: Number(match[1]), ...unpack(packed.value) });
  if (!opened.ok || isIntact(bytes, body)) return opened;
  const { project, notices } = opened.value;
  return ok({ project, notices: [whole.ok ? CHANGED : CUT_OFF, ...notices] });
}

function isIntact(bytes: Uint8Array, body: Uint8Array): boolean {
  return checkBytes(body).every((byte, i) => byte === bytes[body.length + i]);
}

/** FNV-1a, folded to two bytes. */
function checkBytes(body: Uint8Array): readonly number[] {
  let hash = 0x811c9dc5;
  for (const byte of body) hash = Math.imul(hash ^ byte, 0x01000193);
  hash ^= hash >>> 16;
  return [(hash >>> 8) & 255, hash & 255];
}

function pack(project: Project): JsonObject {
  const { vampwright: _, chart: __, ...fields } = toFile({ ...project, others: {} });
  const { vampwright: ___, chart: ____, ...usual } = toFile(newProject());
  const short = shorten({ chart: project.text, ...without(fields, usual) }) as JsonObject;
  return Object.keys(project.others).length === 0 ? short : { ...short, x: project.others };
}

function unpack(packed: JsonObject): JsonObject {
  const { x, ...short } = packed;
  return { ...(isObject(x) ? x : {}), ...(lengthen(short) as JsonObject) };
}
