import type { JsonObject } from './json.ts';
import { parseObject, printObject } from './json.ts';
import { RECORD_KINDS, type RecordKind, type RecordRow, type RecordRows, type Rows } from './shelf.ts';
import { failure } from './trouble.ts';

/**
 * The whole library as one file: `{ "vampwright-library": 1, "charts": [{ "id", "saved", "chart" }] }`,
 * where `saved` is in milliseconds since 1970 and `chart` is a chart file. Beside the charts may stand
 * `versions` (`{ "id", "of", "at", "name", "chart" }`), `sets`, `plans`, `log` and `takes`
 * (`{ "id", "chart", "at", "data" }`, takes with `sound` and `type` as well: base64 and its media
 * type), and `preferences`.
 */
export const BACKUP_FORMAT = 1;
export const MARK = 'vampwright-library';
/** The largest backup that is written or read, in characters. */
export const MOST_CHARACTERS = 300_000_000;

/** All charts and versions, ready to be written. What was thrown away stays behind. */
export async function chartsForBackup(rows: Rows): Promise<JsonObject> {
  const kept = (await rows.all()).filter((row) => row.removed === null).sort(byId);
  const versions = await Promise.all(kept.map(({ id }) => rows.versions.of(id)));
  return {
    charts: kept.map(({ id, saved, file }) => ({ id, saved, chart: chartOf(file) })),
    versions: versions
      .flat()
      .sort(byId)
      .map(({ id, chart, at, name, file }) => ({ id, of: chart, at, name, chart: chartOf(file) })),
  };
}

/** What is kept beside the charts, with its sound. */
export interface RecordsForBackup {
  readonly rows: readonly RecordRow[];
  readonly sounds: ReadonlyMap<string, Blob>;
}

/** Everything kept beside the charts; takes only where they are asked for. */
export async function recordsForBackup(rows: RecordRows, takes: boolean): Promise<RecordsForBackup> {
  const kinds = RECORD_KINDS.filter((kind) => kind !== 'takes' || takes);
  const all = (await Promise.all(kinds.map((kind) => rows.of(kind)))).flat();
  const kept = all.filter((row) => row.removed === null).sort(byId);
  const sounds = new Map<string, Blob>();
  for (const { id, kind } of kept) {
    const sound = kind === 'takes' ? await rows.sound(id) : undefined;
    if (sound !== undefined) sounds.set(id, sound);
  }
  return { rows: kept, sounds };
}

/** The text of the backup. @throws a failure when the sounds are more than one file can hold */
export async function writeBackup(
  charts: JsonObject,
  { rows, sounds }: RecordsForBackup,
  preferences: JsonObject | undefined,
): Promise<string> {
  const bytes = [...sounds.values()].reduce((sum, sound) => sum + sound.size, 0);
  if (bytes * (4 / 3) > MOST_CHARACTERS * 0.9) throw failure('backup-too-large');
  const of = (kind: RecordKind) =>
    rows
      .filter((row) => row.kind === kind)
      .map(async ({ id, chart, at, data }) => ({ id, chart, at, data, ...(await soundOf(sounds.get(id))) }));
  const lists = await Promise.all(RECORD_KINDS.map(async (kind) => [kind, await Promise.all(of(kind))]));
  const filled = Object.entries({ ...charts, ...(Object.fromEntries(lists) as JsonObject) }).filter(
    ([name, list]) => name === 'charts' || (list as readonly unknown[]).length > 0,
  );
  return printObject({
    [MARK]: BACKUP_FORMAT,
    ...Object.fromEntries(filled),
    ...(preferences && { preferences }),
  });
}

async function soundOf(sound: Blob | undefined) {
  if (sound === undefined) return {};
  const bytes = new Uint8Array(await sound.arrayBuffer());
  // A whole number of three bytes each, so that the pieces join to one base64 text.
  const step = 3 * 8192;
  let text = '';
  for (let at = 0; at < bytes.length; at += step) {
    text += btoa(String.fromCharCode(...bytes.subarray(at, at + step)));
  }
  return { sound: text, type: sound.type };
}

/** The chart as an object; as text where it cannot be read, so that it is not lost. */
function chartOf(file: string): unknown {
  const parsed = parseObject(file);
  return parsed.ok ? parsed.value : file;
}

const byId = (a: { readonly id: string }, b: { readonly id: string }) => (a.id < b.id ? -1 : 1);
