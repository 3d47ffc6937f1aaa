import type { Desk, RecordRow, RecordRows, Row, Rows, Shelf, VersionRow } from './shelf.ts';

/** A shelf that lasts as long as the page, for devices that let the page store nothing. */
export function memoryShelf(): Shelf {
  const charts = stage(new Map<string, Row>());
  const versions = stage(new Map<string, VersionRow>());
  const records = stage(new Map<string, RecordRow>());
  const sounds = stage(new Map<string, Blob>());
  let desk: Desk | null = null;
  let queue: Promise<unknown> = Promise.resolve();

  /** One transaction after the other; what it did counts when it has not failed. */
  function inTurn<T>(work: () => Promise<T>): Promise<T> {
    const run = queue.then(async () => {
      const stages = [charts, versions, records, sounds];
      stages.forEach((one) => one.begin());
      const result = await work();
      stages.forEach((one) => one.commit());
      return result;
    });
    queue = run.catch(() => undefined);
    return run;
  }

  const rows: Rows = {
    all: async () => charts.all(),
    get: async (id) => charts.get(id),
    put: async (row) => charts.put(row.id, row),
    drop: async (id) => charts.drop(id),
    versions: {
      of: async (chart) => versions.all().filter((row) => row.chart === chart),
      get: async (id) => versions.get(id),
      put: async (row) => versions.put(row.id, row),
      drop: async (id) => versions.drop(id),
    },
  };
  const recordRows: RecordRows = {
    of: async (kind) => records.all().filter((row) => row.kind === kind),
    get: async (id) => records.get(id),
    async put(row, sound) {
      records.put(row.id, row);
      if (sound !== undefined) sounds.put(row.id, sound);
    },
    async drop(id) {
      records.drop(id);
      sounds.drop(id);
    },
    sound: async (id) => sounds.get(id),
  };
  return {
    transact: (_, work) => inTurn(() => work(rows)),
    records: (_, work) => inTurn(() => work(recordRows)),
    desk: async () => desk,
    async setDesk(next) {
      desk = next;
    },
    close: () => undefined,
  };
}

/** A map whose changes count from the commit on. */
function stage<T>(first: ReadonlyMap<string, T>) {
  let kept = first;
  let staged = new Map(first);
  return {
    begin: () => void (staged = new Map(kept)),
    commit: () => void (kept = staged),
    all: () => [...staged.values()],
    get: (id: string) => staged.get(id),
    put: (id: string, value: T) => void staged.set(id, value),
    drop: (id: string) => void staged.delete(id),
  };
}
