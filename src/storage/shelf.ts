/** One chart as the device holds it. */
export interface Row {
  readonly id: string;
  /** Grows by one with every change, so that a tab sees when another has been there. */
  readonly revision: number;
  /** Milliseconds since 1970. */
  readonly saved: number;
  readonly title: string;
  readonly tags: readonly string[];
  /** The version of the chart file's format that `file` is written in. */
  readonly format: number;
  /** The chart file, as text: one reader guards the device and what comes from outside. */
  readonly file: string;
  /** When it was thrown away, in milliseconds since 1970; null while it is in the library. */
  readonly removed: number | null;
}

/** The rows within one transaction. */
export interface Rows {
  all(): Promise<readonly Row[]>;
  get(id: string): Promise<Row | undefined>;
  put(row: Row): Promise<void>;
  drop(id: string): Promise<void>;
}

/** Where rows are kept. */
export interface Shelf {
  /**
   * Carries out `work` as one step: no other tab can come between, and when it fails nothing of it was
   * done. `work` awaits nothing but its rows.
   */
  transact<T>(mode: 'read' | 'change', work: (rows: Rows) => Promise<T>): Promise<T>;
  /** The row last worked on. */
  lastId(): Promise<string | null>;
  setLastId(id: string): Promise<void>;
  close(): void;
}

/** A shelf that lasts as long as the page, for devices that let the page store nothing. */
export function memoryShelf(): Shelf {
  let kept = new Map<string, Row>();
  let last: string | null = null;
  let queue: Promise<unknown> = Promise.resolve();
  return {
    transact(_, work) {
      const run = queue.then(async () => {
        const staged = new Map(kept);
        const result = await work({
          all: async () => [...staged.values()],
          get: async (id) => staged.get(id),
          put: async (row) => void staged.set(row.id, row),
          drop: async (id) => void staged.delete(id),
        });
        kept = staged;
        return result;
      });
      queue = run.catch(() => undefined);
      return run;
    },
    lastId: async () => last,
    async setLastId(id) {
      last = id;
    },
    close: () => undefined,
  };
}
