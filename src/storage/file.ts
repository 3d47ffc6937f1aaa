import type { Opened, Project, Result, Trouble } from '../engine/index.ts';
import { parseObject, printObject } from './json.ts';
import { fromFile } from './read.ts';
import { toFile } from './write.ts';

/** What a chart file's name ends in. */
export const FILE_ENDING = '.vampwright.json';

/**
 * A project from the text of a chart file, of this version or an older one; of a newer one as much as
 * is understood. Each field is taken for itself: what cannot be taken is named in the notices.
 * @returns the reason when it is no chart file at all; never throws
 */
export function readProject(text: string): Result<Opened, Trouble> {
  const parsed = parseObject(text);
  return parsed.ok ? fromFile(parsed.value) : parsed;
}

/** The text of a chart file, readable by people; `readProject` gives the same project again. */
export function writeProject(project: Project): string {
  return printObject(toFile(project));
}
