import { fail, ok, type Opened, type Project, type Result, type Trouble } from '../engine/index.ts';
import type { LibraryEntry, Room, Saved, StorageNews, StoragePort } from '../ui/ports.ts';
import { Autosave } from './autosave.ts';
import { chartsForBackup, recordsForBackup, writeBackup } from './backup.ts';
import { databaseShelf } from './database.ts';
import { readProject, writeProject } from './file.ts';
import { glance } from './glance.ts';
import { label, save, setRemoved, sweep } from './library.ts';
import { memoryShelf } from './memory.ts';
import { platform } from './platform.ts';
import { readBackup, restoreCharts, restoreRecords } from './restore.ts';
import { recordsOf, sweepRecords, type RecordKeeper } from './records.ts';
import type { RecordRows, Row, Rows, Shelf } from './shelf.ts';
import { joinTabs } from './tabs.ts';
import { failure, openingTroubleOf, troubleOf } from './trouble.ts';
import { keepVersion } from './versions.ts';

/** Our choice: a tenth of what the device gives is worth a word. */
const LOW_SHARE = 0.9;

/** What the device is opened with; all of it can be left out. */
export interface DeviceOptions {
  /** Of the library, in this browser. */
  readonly name?: string;
  /** Milliseconds since 1970. */
  readonly now?: () => number;
}

/**
 * The library on this device. Answers at once and opens in the background; where the browser gives no
 * lasting place, charts are kept in memory and the listeners are told.
 */
export function openDevice({ name = 'vampwright', now = Date.now }: DeviceOptions = {}): StoragePort {
  const listeners = new Set<(news: StorageNews) => void>();
  const tell = (news: StorageNews) => listeners.forEach((listener) => listener(news));
  /** The revision of each chart that this tab last read or wrote. */
  const seen = new Map<string, number>();
  /** Charts that this tab keeps beside what another tab has made of them. */
  const moved = new Map<string, string>();
  /** What a project without an id is kept under. */
  const unnamed = freshId();
  /** The chart of the library that the device knows to be the last one worked on. */
  let lastId: string | null = null;
  let temporary: Trouble | null = null;

  const shelf: Promise<Shelf> = databaseShelf(name)
    .catch((error: unknown) => {
      temporary = openingTroubleOf(error);
      tell({ type: 'temporary', trouble: temporary });
      return memoryShelf();
    })
    .then(async (opened) => {
      await opened.transact('change', (rows) => sweep(rows, now())).catch(() => undefined);
      await opened.records('change', (rows) => sweepRecords(rows, now())).catch(() => undefined);
      return opened;
    });
  const tabs = joinTabs(name, tell);

  async function ask<T>(work: (shelf: Shelf) => Promise<T>): Promise<Result<T, Trouble>> {
    try {
      return ok(await work(await shelf));
    } catch (error) {
      return fail(troubleOf(error));
    }
  }

  const read = <T>(work: (rows: Rows) => Promise<T>) => ask((opened) => opened.transact('read', work));

  let turn: Promise<unknown> = Promise.resolve();
  /** One change after the other, so that each knows the revision the one before has left. */
  function inTurn<T>(work: () => Promise<T>): Promise<T> {
    const run = turn.then(work);
    turn = run.catch(() => undefined);
    return run;
  }

  /** Notes which chart is worked on, for the next visit. */
  async function remember(opened: Shelf, id: string): Promise<void> {
    if (lastId === id) return;
    await opened.setDesk({ id, file: '' });
    lastId = id;
  }

  const setAside = (id: string, removed: number | null) =>
    ask(async (opened) => {
      const { revision } = await opened.transact('change', (rows) => setRemoved(rows, id, removed));
      seen.set(id, revision);
      tabs.tell({ type: 'changed-elsewhere', id });
      return null;
    });

  function put(project: Project): Promise<Result<Saved, Trouble>> {
    const asked = project.id === '' ? unnamed : project.id;
    return ask(async (opened) => {
      const id = moved.get(asked) ?? asked;
      const landed = await opened.transact('change', (rows) =>
        save(rows, project, { id, revision: seen.get(id) ?? 0 }, now(), freshId),
      );
      seen.set(landed.id, landed.revision);
      await remember(opened, landed.id);
      tabs.tell({ type: 'changed-elsewhere', id: landed.id });
      if (landed.beside) {
        moved.set(asked, landed.id);
        tell({ type: 'kept-both', id: asked, as: landed.id });
      }
      return { id: landed.id, beside: landed.beside };
    });
  }

  const autosave = new Autosave<Project>(
    async (_, project) => {
      const saved = await inTurn(() => put(project));
      if (!saved.ok) tell({ type: 'failed', trouble: saved.error });
      return saved.ok;
    },
    () => tell({ type: 'saved' }),
  );

  async function get(id: string, toWorkOn: boolean): Promise<Result<Opened, Trouble>> {
    await autosave.settle();
    const row = await read((rows) => rows.get(id));
    if (!row.ok) return row;
    if (row.value === undefined) return fail(troubleOf(failure('missing')));
    if (toWorkOn) {
      seen.set(id, row.value.revision);
      moved.delete(id);
      await ask((opened) => remember(opened, id));
    }
    const opened = readProject(row.value.file);
    if (!opened.ok) return opened;
    return ok({ ...opened.value, project: { ...opened.value.project, id } });
  }

  const recordKeeper: RecordKeeper = {
    run: (mode, work) => ask((opened) => opened.records(mode, work)),
    async free() {
      const there = await room();
      return there === null ? Infinity : there.total - there.used;
    },
    tell: (kind) => tabs.tell({ type: 'records-elsewhere', kind }),
    now,
    freshId,
  };
  const readRecords = <T>(work: (rows: RecordRows) => Promise<T>) => recordKeeper.run('read', work);

  const entries = (wanted: (row: Row) => boolean) =>
    read(async (rows) => (await rows.all()).filter(wanted).sort(latestFirst).map(entryOf));

  const settleWhenHidden = () => {
    if (document.visibilityState === 'hidden') void autosave.settle();
  };
  platform.document?.addEventListener('visibilitychange', settleWhenHidden);

  return {
    list: () => entries((row) => row.removed === null),
    removed: () => entries((row) => row.removed !== null),
    get: (id) => get(id, true),
    peek: (id) => get(id, false),
    async last() {
      const desk = await inTurn(() => ask((opened) => opened.desk()));
      if (!desk.ok || desk.value === null) return desk as Result<null, Trouble>;
      const { id, file } = desk.value;
      const row = await read((rows) => rows.get(id));
      if (!row.ok) return row;
      if (row.value?.removed === null) {
        const opened = await get(id, true);
        return opened.ok ? ok({ ...opened.value, inLibrary: true }) : opened;
      }
      const laid = file === '' ? null : readProject(file);
      if (!laid?.ok) return ok(null);
      return ok({ ...laid.value, project: { ...laid.value.project, id }, inLibrary: false });
    },
    lay(project) {
      lastId = null;
      void inTurn(() => ask((opened) => opened.setDesk({ id: project.id, file: writeProject(project) })));
    },
    find(project) {
      const file = writeProject(project);
      return read(
        async (rows) =>
          (await rows.all()).find((row) => row.removed === null && row.file === file)?.id ?? null,
      );
    },
    async versions(id) {
      await autosave.settle();
      return read(async (rows) =>
        (await rows.versions.of(id))
          .toSorted((a, b) => b.at - a.at)
          .map((version) => ({ id: version.id, at: version.at, name: version.name })),
      );
    },
    async version(id) {
      const row = await read((rows) => rows.versions.get(id));
      if (!row.ok) return row;
      if (row.value === undefined) return fail(troubleOf(failure('missing')));
      const opened = readProject(row.value.file);
      if (!opened.ok) return opened;
      return ok({ ...opened.value, project: { ...opened.value.project, id: row.value.chart } });
    },
    async keepVersion(id, name) {
      await autosave.settle();
      return ask((opened) =>
        opened.transact('change', async (rows) => {
          const row = await rows.get(id);
          if (row === undefined) throw failure('missing');
          await keepVersion(rows, row, name, now(), freshId);
          return null;
        }),
      );
    },
    sets: recordsOf('sets', recordKeeper),
    plans: recordsOf('plans', recordKeeper),
    log: recordsOf('log', recordKeeper),
    takes: recordsOf('takes', recordKeeper),
    async put(project) {
      autosave.drop(project.id);
      const saved = await inTurn(() => put(project));
      if (!saved.ok) autosave.keep(project.id, project);
      return saved;
    },
    async label(id, labels) {
      await autosave.settle();
      return inTurn(() =>
        ask(async (opened) => {
          const { revision } = await opened.transact('change', (rows) =>
            label(rows, id, labels, now(), freshId),
          );
          if (seen.has(id)) seen.set(id, revision);
          tabs.tell({ type: 'changed-elsewhere', id });
          return null;
        }),
      );
    },
    async remove(id) {
      await autosave.settle();
      return inTurn(() => setAside(id, now()));
    },
    takeBack: (id) => inTurn(() => setAside(id, null)),
    keep(project) {
      autosave.keep(project.id, project);
      tell({ type: 'unsaved' });
    },
    settle: () => autosave.settle(),
    async backup(wishes = {}) {
      await autosave.settle();
      const charts = await read(chartsForBackup);
      if (!charts.ok) return charts;
      const records = await readRecords((rows) => recordsForBackup(rows, wishes.takes ?? false));
      if (!records.ok) return records;
      return ask(() => writeBackup(charts.value, records.value, wishes.preferences));
    },
    async restore(text) {
      const backup = readBackup(text, now(), freshId);
      if (!backup.ok) return backup;
      const charts = await ask((opened) =>
        opened.transact('change', (rows) => restoreCharts(rows, backup.value, freshId)),
      );
      if (!charts.ok) return charts;
      const records = await ask((opened) =>
        opened.records('change', (rows) => restoreRecords(rows, backup.value, charts.value.ids, freshId)),
      );
      if (!records.ok) return records;
      const { added, same, beside, versions } = charts.value;
      const { notices, preferences } = backup.value;
      return ok({ added, same, beside, records: versions + records.value, preferences, notices });
    },
    persist: async () => (await platform.navigator?.storage?.persist?.().catch(() => false)) ?? false,
    room,
    watch(listener) {
      listeners.add(listener);
      if (temporary !== null) listener({ type: 'temporary', trouble: temporary });
      return () => listeners.delete(listener);
    },
    async close() {
      platform.document?.removeEventListener('visibilitychange', settleWhenHidden);
      await autosave.settle();
      autosave.stop();
      await turn;
      tabs.close();
      (await shelf).close();
    },
  };
}

const latestFirst = (a: Row, b: Row) => b.saved - a.saved;

function entryOf({ id, title, tags, saved, file }: Row): LibraryEntry {
  return { id, title, tags, saved, text: glance(file).text };
}

async function room(): Promise<Room | null> {
  const estimate = await platform.navigator?.storage?.estimate?.().catch(() => null);
  if (estimate?.usage === undefined || !estimate.quota) return null;
  return { used: estimate.usage, total: estimate.quota, low: estimate.usage > LOW_SHARE * estimate.quota };
}

/** A name no other chart on any device has: 96 bits of chance. */
function freshId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(12));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
