import { readdirSync } from 'node:fs';
import { join, relative, sep } from 'node:path';

/** The project's folder. */
export const REPO = join(import.meta.dirname, '../..');

const NOT_OURS = new Set(['node_modules', 'dist', 'coverage', '.git', '.cache']);

/** The files below a folder of the project, as paths from the project's folder with "/" between names. */
export function filesBelow(folder = '.'): string[] {
  return readdirSync(join(REPO, folder), { withFileTypes: true })
    .filter(({ name }) => !NOT_OURS.has(name))
    .flatMap((entry) => {
      const path = join(folder, entry.name);
      return entry.isDirectory() ? filesBelow(path) : [relative('.', path).replaceAll(sep, '/')];
    });
}
