import type { JsonObject } from './json.ts';

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
  /** When what stood before was last kept as a version, in milliseconds since 1970. */
  readonly versioned?: number;
}

/** A chart as it stood at some time. */
export interface VersionRow {
  readonly id: string;
  /** The chart it is a version of. */
  readonly chart: string;
  /** When it stood like this, in milliseconds since 1970. */
  readonly at: number;
  /** What the player calls it; empty when it was kept by itself. */
  readonly name: string;
  readonly file: string;
}

/** What is kept beside the charts. The words are part of the database and of backups. */
export const RECORD_KINDS = ['sets', 'plans', 'log', 'takes'] as const;
export type RecordKind = (typeof RECORD_KINDS)[number];

/** One thing kept beside the charts. */
export interface RecordRow {
  readonly id: string;
  readonly kind: RecordKind;
  /** The chart it belongs to; empty where it belongs to none. */
  readonly chart: string;
  /** When it was first kept, in milliseconds since 1970. */
  readonly at: number;
  readonly data: JsonObject;
  readonly removed: number | null;
}

/** The charts within one transaction. */
export interface Rows {
  all(): Promise<readonly Row[]>;
  get(id: string): Promise<Row | undefined>;
  put(row: Row): Promise<void>;
  drop(id: string): Promise<void>;
  versions: {
    of(chart: string): Promise<readonly VersionRow[]>;
    get(id: string): Promise<VersionRow | undefined>;
    put(row: VersionRow): Promise<void>;
    drop(id: string): Promise<void>;
  };
}

/** What is kept beside the charts, within one transaction. */
export interface RecordRows {
  of(kind: RecordKind): Promise<readonly RecordRow[]>;
  get(id: string): Promise<RecordRow | undefined>;
  /** @param sound kept with it, under the same id */
  put(row: RecordRow, sound?: Blob): Promise<void>;
  /** With its sound. */
  drop(id: string): Promise<void>;
  sound(id: string): Promise<Blob | undefined>;
}

/** The chart last worked on: one of the library's, or one that lies there without being in it. */
export interface Desk {
  readonly id: string;
  /** The chart file of one that is not in the library; empty otherwise. */
  readonly file: string;
}

type Mode = 'read' | 'change';

/** Where rows are kept. */
export interface Shelf {
  /**
   * Carries out `work` as one step: no other tab can come between, and when it fails nothing of it was
   * done. `work` awaits nothing but its rows.
   */
  transact<T>(mode: Mode, work: (rows: Rows) => Promise<T>): Promise<T>;
  /** The same with what is kept beside the charts. */
  records<T>(mode: Mode, work: (rows: RecordRows) => Promise<T>): Promise<T>;
  desk(): Promise<Desk | null>;
  setDesk(desk: Desk): Promise<void>;
  close(): void;
}
