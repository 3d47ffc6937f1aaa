import { fail, ok, type Notice, type Result, type Trouble } from '../engine/index.ts';
import type { Restored } from '../ui/ports.ts';
import { isObject, parseObject, printObject } from './json.ts';
import { Notices } from './notices.ts';
import { fromFile } from './read.ts';
import type { Row, Rows } from './shelf.ts';

/**
 * The whole library as one file: `{ "vampwright-library": 1, "charts": [{ "id", "saved", "chart" }] }`,
 * where `saved` is in milliseconds since 1970 and `chart` is a chart file.
 */
const BACKUP_FORMAT = 1;
const MARK = 'vampwright-library';
/** The largest backup that is read, in characters. */
const MOST_CHARACTERS = 100_000_000;

/** All charts in the library as one text. What was thrown away stays behind. */
export async function writeBackup(rows: Rows): Promise<string> {
  const kept = (await rows.all()).filter((row) => row.removed === null);
  const charts = kept
    .sort((a, b) => (a.id < b.id ? -1 : 1))
    .map(({ id, saved, file }) => ({ id, saved, chart: chartOf(file) }));
  return printObject({ [MARK]: BACKUP_FORMAT, charts });
}

/** The chart as an object; as text where it cannot be read, so that it is not lost. */
function chartOf(file: string): unknown {
  const parsed = parseObject(file);
  return parsed.ok ? parsed.value : file;
}

/** A backup's charts, ready to be brought in, and what could not be read of it. */
export interface Backup {
  readonly charts: readonly Omit<Row, 'revision' | 'removed'>[];
  readonly notices: readonly Notice[];
}

/** Reads a backup as far as it can be read; never throws. */
export function readBackup(text: string, now: number, freshId: () => string): Result<Backup, Trouble> {
  const parsed = parseObject(text, MOST_CHARACTERS);
  if (!parsed.ok) return parsed;
  const { [MARK]: format, charts } = parsed.value;
  if (typeof format !== 'number' || !Array.isArray(charts)) {
    return fail({
      message: 'The file is no backup of a library.',
      remedy: 'Choose a backup, or open a single chart as a chart.',
    });
  }
  const notices = new Notices();
  if (format > BACKUP_FORMAT) notices.add('the backup', 'comes from a newer version; charts alone were read');
  const read = charts.flatMap((item: unknown, index) => {
    const place = `chart ${index + 1}`;
    const chart = isObject(item) ? objectOf(item['chart']) : null;
    const opened = chart && fromFile(chart);
    if (!isObject(item) || !chart || !opened?.ok) {
      notices.add(place, 'could not be read and was left out');
      return [];
    }
    for (const notice of opened.value.notices) notices.add(`${place}, ${notice.place}`, notice.message);
    const { title, tags } = opened.value.project;
    const { id, saved } = item;
    return {
      id: typeof id === 'string' && id !== '' && id.length <= 100 ? id : freshId(),
      saved: typeof saved === 'number' && saved >= 0 && saved <= now ? saved : now,
      title,
      tags,
      format: Number(chart['vampwright']),
      // As it came, so that nothing a newer version has put there is lost.
      file: printObject(chart),
    };
  });
  return ok({ charts: read, notices: notices.list() });
}

function objectOf(chart: unknown) {
  if (isObject(chart)) return chart;
  const parsed = typeof chart === 'string' ? parseObject(chart) : null;
  return parsed?.ok ? parsed.value : null;
}

/** Brings a backup's charts in: nothing in the library is written over. */
export async function restoreBackup(rows: Rows, backup: Backup, freshId: () => string): Promise<Restored> {
  const counts = { added: 0, same: 0, beside: 0 };
  const files = new Set((await rows.all()).filter((row) => row.removed === null).map((row) => row.file));
  for (const chart of backup.charts) {
    if (files.has(chart.file)) {
      counts.same++;
      continue;
    }
    const there = await rows.get(chart.id);
    const isFree = there === undefined;
    if (there === undefined || there.removed !== null) counts.added++;
    else counts.beside++;
    await rows.put({ ...chart, id: isFree ? chart.id : freshId(), revision: 1, removed: null });
    files.add(chart.file);
  }
  return { ...counts, notices: backup.notices };
}
