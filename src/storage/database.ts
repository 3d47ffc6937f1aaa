import { openDB, type DBSchema, type IDBPDatabase } from 'idb';
import { platform } from './platform.ts';
import { failure } from './trouble.ts';
import type { Row, Rows, Shelf } from './shelf.ts';

interface Library extends DBSchema {
  charts: { key: string; value: Row };
  /** Single values by name. */
  desk: { key: string; value: string };
}

const VERSION = 1;
const LAST = 'last';
/** How long the device may take to open the library before the page goes on without it. */
const PATIENCE_MS = 4000;

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
      withDatabase(async (db) => {
        const transaction = db.transaction('charts', mode === 'read' ? 'readonly' : 'readwrite');
        const { store } = transaction;
        const rows: Rows = {
          all: () => store.getAll(),
          get: (id) => store.get(id),
          put: async (row) => void (await store.put?.(row)),
          drop: async (id) => void (await store.delete?.(id)),
        };
        // A failed request rejects both; the first to speak is enough.
        transaction.done.catch(() => undefined);
        try {
          const result = await work(rows);
          await transaction.done;
          return result;
        } catch (error) {
          abort(transaction);
          throw error;
        }
      }),
    lastId: () => withDatabase(async (db) => (await db.get('desk', LAST)) ?? null),
    setLastId: (id) => withDatabase(async (db) => void (await db.put('desk', id, LAST))),
    close() {
      void database?.then((db) => db.close()).catch(() => undefined);
    },
  };
}

function abort(transaction: { abort(): void }): void {
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
      upgrade(db) {
        db.createObjectStore('charts', { keyPath: 'id' });
        db.createObjectStore('desk');
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
