import { fail, ok, type Notice, type Result, type Trouble } from '../engine/index.ts';
import type { Kept } from '../ui/ports.ts';
import { BACKUP_FORMAT, MARK, MOST_CHARACTERS } from './backup.ts';
import { isObject, parseObject, printObject, type JsonObject } from './json.ts';
import { Notices } from './notices.ts';
import { fromFile } from './read.ts';
import { isId, isPast, readRecord } from './records.ts';
import {
  RECORD_KINDS,
  type RecordKind,
  type RecordRows,
  type Row,
  type Rows,
  type VersionRow,
} from './shelf.ts';

/** A backup, ready to be brought in, and what could not be read of it. */
export interface Backup {
  readonly charts: readonly Omit<Row, 'revision' | 'removed'>[];
  readonly versions: readonly VersionRow[];
  readonly records: readonly {
    readonly kind: RecordKind;
    readonly kept: Kept;
    readonly sound: Blob | null;
  }[];
  readonly preferences: JsonObject | null;
  readonly notices: readonly Notice[];
}

/** Reads a backup as far as it can be read; never throws. */
export function readBackup(text: string, now: number, freshId: () => string): Result<Backup, Trouble> {
  const parsed = parseObject(text, MOST_CHARACTERS);
  if (!parsed.ok) return parsed;
  const { [MARK]: format, charts, versions, preferences } = parsed.value;
  if (typeof format !== 'number' || !Array.isArray(charts)) {
    return fail({
      message: 'The file is no backup of a library.',
      remedy: 'Choose a backup, or open a single chart as a chart.',
    });
  }
  const notices = new Notices();
  if (format > BACKUP_FORMAT) notices.add('the backup', 'comes from a newer version; what is known was read');
  const time = (value: unknown) => (isPast(value, now) ? value : now);
  return ok({
    charts: charts.flatMap((item: unknown, index) => {
      const read = readChart(item, `chart ${index + 1}`, notices);
      if (read === null) return [];
      const { title, tags, chart, raw } = read;
      const row = { title, tags, format: Number(chart['vampwright']), file: printObject(chart) };
      return { id: isId(raw['id']) ? raw['id'] : freshId(), saved: time(raw['saved']), ...row };
    }),
    versions: listOf(versions).flatMap((item, index) => {
      const read = readChart(item, `version ${index + 1}`, notices);
      if (read === null) return [];
      const { id, of, at, name } = read.raw;
      if (!isId(of)) return [];
      const named = typeof name === 'string' ? name : '';
      const file = printObject(read.chart);
      return { id: isId(id) ? id : freshId(), chart: of, at: time(at), name: named, file };
    }),
    records: RECORD_KINDS.flatMap((kind) =>
      listOf(parsed.value[kind]).flatMap((item, index) => {
        const kept = readRecord(item, now, freshId);
        if (kept === null) {
          notices.add(`${kind}, item ${index + 1}`, 'could not be read and was left out');
          return [];
        }
        return { kind, kept, sound: kind === 'takes' ? readSound(item) : null };
      }),
    ),
    preferences: isObject(preferences) ? preferences : null,
    notices: notices.list(),
  });
}

const listOf = (value: unknown): readonly unknown[] => (Array.isArray(value) ? value : []);

/** The chart within an item, as it came, so that nothing a newer version has put there is lost. */
function readChart(item: unknown, place: string, notices: Notices) {
  const chart = isObject(item) ? objectOf(item['chart']) : null;
  const opened = chart && fromFile(chart);
  if (!isObject(item) || !chart || !opened?.ok) {
    notices.add(place, 'could not be read and was left out');
    return null;
  }
  for (const notice of opened.value.notices) notices.add(`${place}, ${notice.place}`, notice.message);
  const { title, tags } = opened.value.project;
  return { title, tags, chart, raw: item };
}

function objectOf(chart: unknown) {
  if (isObject(chart)) return chart;
  const parsed = typeof chart === 'string' ? parseObject(chart) : null;
  return parsed?.ok ? parsed.value : null;
}

function readSound(item: unknown): Blob | null {
  if (!isObject(item) || typeof item['sound'] !== 'string') return null;
  const type = typeof item['type'] === 'string' && item['type'].startsWith('audio/') ? item['type'] : '';
  try {
    return new Blob([Uint8Array.from(atob(item['sound']), (char) => char.charCodeAt(0))], { type });
  } catch {
    return null;
  }
}

export interface RestoredCharts {
  readonly added: number;
  readonly same: number;
  readonly beside: number;
  readonly versions: number;
  /** Under which id each chart of the backup is in the library now. */
  readonly ids: ReadonlyMap<string, string>;
}

/** Brings a backup's charts in: nothing in the library is written over. */
export async function restoreCharts(
  rows: Rows,
  backup: Backup,
  freshId: () => string,
): Promise<RestoredCharts> {
  const counts = { added: 0, same: 0, beside: 0, versions: 0 };
  const ids = new Map<string, string>();
  const files = new Map(
    (await rows.all()).filter((row) => row.removed === null).map((row) => [row.file, row.id]),
  );
  for (const chart of backup.charts) {
    const same = files.get(chart.file);
    if (same !== undefined) {
      counts.same++;
      ids.set(chart.id, same);
      continue;
    }
    const there = await rows.get(chart.id);
    const isFree = there === undefined;
    if (there === undefined || there.removed !== null) counts.added++;
    else counts.beside++;
    const id = isFree ? chart.id : freshId();
    await rows.put({ ...chart, id, revision: 1, removed: null });
    ids.set(chart.id, id);
    files.set(chart.file, id);
  }
  for (const version of backup.versions) {
    const chart = ids.get(version.chart);
    if (chart === undefined) continue;
    const there = await rows.versions.of(chart);
    if (there.some(({ file, name }) => file === version.file && name === version.name)) continue;
    const isFree = (await rows.versions.get(version.id)) === undefined;
    await rows.versions.put({ ...version, id: isFree ? version.id : freshId(), chart });
    counts.versions++;
  }
  return { ...counts, ids };
}

/** Brings in what a backup has beside its charts; how many things were not there. */
export async function restoreRecords(
  rows: RecordRows,
  backup: Backup,
  ids: ReadonlyMap<string, string>,
  freshId: () => string,
): Promise<number> {
  let added = 0;
  for (const { kind, kept, sound } of backup.records) {
    const { at } = kept;
    const chart = ids.get(kept.chart) ?? kept.chart;
    const data = kind === 'sets' ? withCharts(kept.data, ids) : kept.data;
    const there = await rows.of(kind);
    const json = JSON.stringify(data);
    const isThere = there.some(
      (row) =>
        row.removed === null && row.at === at && row.chart === chart && JSON.stringify(row.data) === json,
    );
    if (isThere) continue;
    const isFree = (await rows.get(kept.id)) === undefined;
    const id = isFree ? kept.id : freshId();
    await rows.put({ id, kind, chart, at, data, removed: null }, sound ?? undefined);
    added++;
  }
  return added;
}

/** A set names its charts: under the ids they have in this library. */
function withCharts(data: JsonObject, ids: ReadonlyMap<string, string>): JsonObject {
  const { charts } = data;
  if (!Array.isArray(charts)) return data;
  return {
    ...data,
    charts: charts.map((id: unknown) => (typeof id === 'string' ? (ids.get(id) ?? id) : id)),
  };
}
