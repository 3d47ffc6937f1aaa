import { fail, type Result, type Trouble } from '../engine/index.ts';
import type { Kept, Takes } from '../ui/ports.ts';
import { isObject } from './json.ts';
import { KEPT_AFTER_REMOVAL_MS } from './library.ts';
import { RECORD_KINDS, type RecordKind, type RecordRow, type RecordRows } from './shelf.ts';
import { failure, troubleOf } from './trouble.ts';

/** The longest data of one record, as JSON, in characters: far more than a plan or a line of the log. */
const MOST_CHARACTERS = 1_000_000;
/** A sound takes much room, so what was removed makes way sooner. Our choice: after a day. */
const SOUND_KEPT_AFTER_REMOVAL_MS = 24 * 60 * 60 * 1000;
/** Room that a sound must leave to the charts, in bytes. */
const LEFT_TO_CHARTS = 5_000_000;

/** What records need of the device. */
export interface RecordKeeper {
  run<T>(mode: 'read' | 'change', work: (rows: RecordRows) => Promise<T>): Promise<Result<T, Trouble>>;
  /** Bytes that are still free; Infinity where the browser does not say. */
  free(): Promise<number>;
  tell(kind: RecordKind): void;
  now(): number;
  freshId(): string;
}

/** What is kept of one kind, earliest first. */
export function recordsOf(kind: RecordKind, device: RecordKeeper): Takes {
  const list = (removed: boolean) =>
    device.run('read', async (rows) =>
      (await rows.of(kind))
        .filter((row) => (row.removed !== null) === removed)
        .sort((a, b) => a.at - b.at)
        .map(keptOf),
    );

  async function write(row: RecordRow, sound?: Blob): Promise<Result<Kept, Trouble>> {
    if (JSON.stringify(row.data).length > MOST_CHARACTERS) return fail(troubleOf(failure('too-large')));
    if (sound !== undefined && (await device.free()) < sound.size + LEFT_TO_CHARTS) {
      return fail(troubleOf(failure('no-room-for-sound')));
    }
    const done = await device.run('change', async (rows) => {
      await rows.put(row, sound);
      return keptOf(row);
    });
    if (done.ok) device.tell(kind);
    return done;
  }

  const setAside = async (id: string, removed: number | null): Promise<Result<null, Trouble>> => {
    const done = await device.run('change', async (rows) => {
      const row = await rows.get(id);
      if (row === undefined || row.kind !== kind) throw failure('missing');
      await rows.put({ ...row, removed });
      return null;
    });
    if (done.ok) device.tell(kind);
    return done;
  };

  return {
    list: () => list(false),
    removed: () => list(true),
    add: (data, chart = '', sound) =>
      write({ id: device.freshId(), kind, chart, at: device.now(), data, removed: null }, sound),
    put: ({ id, chart, at, data }) => write({ id, kind, chart, at, data, removed: null }),
    remove: (id) => setAside(id, device.now()),
    takeBack: (id) => setAside(id, null),
    sound: (id) => device.run('read', async (rows) => (await rows.sound(id)) ?? null),
  };
}

const keptOf = ({ id, chart, at, data }: RecordRow): Kept => ({ id, chart, at, data });

/** Forgets what was removed too long ago. */
export async function sweepRecords(rows: RecordRows, now: number): Promise<void> {
  for (const kind of RECORD_KINDS) {
    const kept = kind === 'takes' ? SOUND_KEPT_AFTER_REMOVAL_MS : KEPT_AFTER_REMOVAL_MS;
    for (const { id, removed } of await rows.of(kind)) {
      if (removed !== null && now - removed > kept) await rows.drop(id);
    }
  }
}

/** A record from a backup; null when it is none. */
export function readRecord(raw: unknown, now: number, freshId: () => string): Kept | null {
  if (!isObject(raw) || !isObject(raw['data'])) return null;
  const { id, chart, at, data } = raw;
  if (JSON.stringify(data).length > MOST_CHARACTERS) return null;
  return {
    id: isId(id) ? id : freshId(),
    chart: isId(chart) ? chart : '',
    at: isPast(at, now) ? at : now,
    data,
  };
}

/** True for a name that a row can have. */
export const isId = (value: unknown): value is string =>
  typeof value === 'string' && value !== '' && value.length <= 100;

/** True for a time in milliseconds since 1970 that is not to come. */
export const isPast = (value: unknown, now: number): value is number =>
  typeof value === 'number' && value >= 0 && value <= now;
