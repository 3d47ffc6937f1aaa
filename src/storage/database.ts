import { openDB, type DBSchema, type IDBPDatabase, type IDBPTransaction } from 'idb';
import { platform } from './platform.ts';
import { failure } from './trouble.ts';
import type { RecordKind, RecordRow, RecordRows, Row, Rows, Shelf, VersionRow } from './shelf.ts';

interface Library extends DBSchema {
  charts: { key: string; value: Row };
  versions: { key: string; value: VersionRow; indexes: { chart: string } };
  records: { key: string; value: RecordRow; indexes: { kind: RecordKind } };
  /** By the id of the record they belong to. */
  sounds: { key: string; value: Blob };
  /** Single values by name. */
  desk: { key: string; value: string };
}

/**
 * The layout of the database. Each layout is made from the one before, so that a library of any age
 * opens: 1 had charts and desk, 2 has versions, records and sounds beside them.
 */
const VERSION = 2;
/** How long the device may take to open the library before the page goes on without it. */
const PATIENCE_MS = 4000;

type Mode = 'readonly' | 'readwrite';
const modeOf = (mode: 'read' | 'change'): Mode => (mode === 'read' ? 'readonly' : 'readwrite');

/**
 * The library in the browser's database.
 * @param name of the database
 * @returns rejects with a {@link failure} when the browser has none or will not open it
 */
export async function databaseShelf(name: string): Promise<Shelf> {
  let database: Promise<IDBPDatabase<Library>> | null = open();
  await database;

  function open(): Promise<IDBPDatabase<Library>> {
    return openLibrary(name, () => {
      database = null;
    });
  }

  /** Runs `work`, once more on a new connection when the old one was taken away. */
  async function withDatabase<T>(work: (db: IDBPDatabase<Library>) => Promise<T>): Promise<T> {
    try {
      return await work(await (database ??= open()));
    } catch (error) {
      if (!(error instanceof DOMException && error.name === 'InvalidStateError')) throw error;
      database = open();
      return work(await database);
    }
  }

  return {
    transact: (mode, work) =>
      withDatabase((db) => {
        const transaction = db.transaction(['charts', 'versions'], modeOf(mode));
        return carryOut(transaction, () => work(chartRows(transaction)));
      }),
    records: (mode, work) =>
      withDatabase((db) => {
        const transaction = db.transaction(['records', 'sounds'], modeOf(mode));
        return carryOut(transaction, () => work(recordRows(transaction)));
      }),
    desk: () =>
      withDatabase(async (db) => {
        const id = await db.get('desk', 'last');
        return id === undefined ? null : { id, file: (await db.get('desk', 'file')) ?? '' };
      }),
    setDesk: ({ id, file }) =>
      withDatabase(async (db) => {
        const { store, done } = db.transaction('desk', 'readwrite');
        await Promise.all([store.put(id, 'last'), store.put(file, 'file'), done]);
      }),
    close() {
      void database?.then((db) => db.close()).catch(() => undefined);
    },
  };
}

type Charts = IDBPTransaction<Library, ('charts' | 'versions')[], Mode>;
type Records = IDBPTransaction<Library, ('records' | 'sounds')[], Mode>;

function chartRows(transaction: Charts): Rows {
  const charts = transaction.objectStore('charts');
  const versions = transaction.objectStore('versions');
  return {
    all: () => charts.getAll(),
    get: (id) => charts.get(id),
    put: async (row) => void (await charts.put?.(row)),
    drop: async (id) => void (await charts.delete?.(id)),
    versions: {
      of: (chart) => versions.index('chart').getAll(chart),
      get: (id) => versions.get(id),
      put: async (row) => void (await versions.put?.(row)),
      drop: async (id) => void (await versions.delete?.(id)),
    },
  };
}

function recordRows(transaction: Records): RecordRows {
  const records = transaction.objectStore('records');
  const sounds = transaction.objectStore('sounds');
  return {
    of: (kind) => records.index('kind').getAll(kind),
    get: (id) => records.get(id),
    async put(row, sound) {
      await Promise.all([records.put?.(row), sound && sounds.put?.(sound, row.id)]);
    },
    async drop(id) {
      await Promise.all([records.delete?.(id), sounds.delete?.(id)]);
    },
    sound: (id) => sounds.get(id),
  };
}

interface Transaction {
  readonly done: Promise<void>;
  abort(): void;
}

async function carryOut<T>(transaction: Transaction, work: () => Promise<T>): Promise<T> {
  // A failed request rejects both; the first to speak is enough.
  transaction.done.catch(() => undefined);
  try {
    const result = await work();
    await transaction.done;
    return result;
  } catch (error) {
    abort(transaction);
    throw error;
  }
}

function abort(transaction: Transaction): void {
  try {
    transaction.abort();
  } catch {
    // It has ended already.
  }
}

function openLibrary(name: string, onLost: () => void): Promise<IDBPDatabase<Library>> {
  if (platform.indexedDB === undefined) return Promise.reject(failure('absent'));
  return new Promise((resolve, reject) => {
    let isLate = false;
    const giveUp = setTimeout(() => {
      isLate = true;
      reject(failure('blocked'));
    }, PATIENCE_MS);
    openDB<Library>(name, VERSION, {
      upgrade(db, before) {
        if (before < 1) {
          db.createObjectStore('charts', { keyPath: 'id' });
          db.createObjectStore('desk');
        }
        if (before < 2) {
          db.createObjectStore('versions', { keyPath: 'id' }).createIndex('chart', 'chart');
          db.createObjectStore('records', { keyPath: 'id' }).createIndex('kind', 'kind');
          db.createObjectStore('sounds');
        }
      },
      // A newer page wants to change the library's layout: make way for it.
      blocking(_, __, event) {
        (event.target as IDBDatabase).close();
        onLost();
      },
      terminated: onLost,
    })
      .then((db) => (isLate ? db.close() : resolve(db)), reject)
      .finally(() => clearTimeout(giveUp));
  });
}
