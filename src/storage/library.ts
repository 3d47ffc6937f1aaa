import type { Project } from '../engine/index.ts';
import { readProject, writeProject } from './file.ts';
import { glance } from './glance.ts';
import { MOST_CHARACTERS } from './json.ts';
import { FORMAT } from './schema.ts';
import type { Row, Rows } from './shelf.ts';
import { failure } from './trouble.ts';
import { isDue, keepVersion } from './versions.ts';

/**
 * The rules of the library, each carried out within one transaction: what was saved is never written
 * over unseen, and what was thrown away can be taken back for a while.
 */

/** How long a chart that was thrown away can be taken back. Our choice: until well after the lesson. */
export const KEPT_AFTER_REMOVAL_MS = 30 * 24 * 60 * 60 * 1000;

/** What this tab last knew of a chart: its id, and the revision it read or wrote; 0 for a new chart. */
export interface Seen {
  readonly id: string;
  readonly revision: number;
}

/** Where a save ended: under the chart's own id, or beside it. */
export interface Landed extends Seen {
  /** True when another tab, or a newer version of the page, had been there: both are kept. */
  readonly beside: boolean;
}

/**
 * Saves a project over the revision it came from. Where the library holds another revision, or one
 * that a newer version of the page has written, that one stays and the project is kept under a new id.
 * @param now milliseconds since 1970
 * @param freshId makes an id that is not taken
 */
export async function save(
  rows: Rows,
  project: Project,
  seen: Seen,
  now: number,
  freshId: () => string,
): Promise<Landed> {
  const file = writeProject(project);
  if (file.length > MOST_CHARACTERS) throw failure('too-large');
  const there = await rows.get(seen.id);
  if (there?.file === file && there.removed === null) return { ...here(there), beside: false };
  const beside = there !== undefined && (there.revision !== seen.revision || there.format > FORMAT);
  const isVersionDue =
    there !== undefined && !beside && isDue(there, glance(there.file).text, project.text, now);
  if (isVersionDue) await keepVersion(rows, there, '', now, freshId);
  const row: Row = {
    id: beside ? freshId() : seen.id,
    revision: beside ? 1 : seen.revision + 1,
    saved: now,
    title: project.title,
    tags: project.tags,
    format: FORMAT,
    file,
    removed: null,
    versioned: there === undefined || beside || isVersionDue ? now : (there.versioned ?? now),
  };
  await rows.put(row);
  return { ...here(row), beside };
}

const here = ({ id, revision }: Row): Seen => ({ id, revision });

/** Gives a chart another title or other tags, whoever works on it. */
export async function label(
  rows: Rows,
  id: string,
  labels: Partial<Pick<Project, 'title' | 'tags'>>,
  now: number,
  freshId: () => string,
): Promise<Seen> {
  const row = await rows.get(id);
  const opened = row === undefined ? null : readProject(row.file);
  if (row === undefined || !opened?.ok || row.format > FORMAT) throw failure('missing');
  return save(rows, { ...opened.value.project, ...labels }, here(row), now, freshId);
}

/** Throws a chart away, or takes it back. */
export async function setRemoved(rows: Rows, id: string, removed: number | null): Promise<Seen> {
  const row = await rows.get(id);
  if (row === undefined) throw failure('missing');
  const changed = { ...row, removed, revision: row.revision + 1 };
  await rows.put(changed);
  return here(changed);
}

/** Forgets what was thrown away too long ago. */
export async function sweep(rows: Rows, now: number): Promise<void> {
  for (const row of await rows.all()) {
    if (row.removed === null || now - row.removed <= KEPT_AFTER_REMOVAL_MS) continue;
    for (const { id } of await rows.versions.of(row.id)) await rows.versions.drop(id);
    await rows.drop(row.id);
  }
}
