import type { Project } from '../engine/index.ts';
import { readProject } from './file.ts';

/** A chart that comes with the app. */
export interface Preset {
  /** The name of its file in `presets/charts`, e.g. "altered-vamp-in-c". */
  readonly id: string;
  readonly project: Project;
}

const FILES = import.meta.glob<string>('../../presets/charts/*.json', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/**
 * The charts that come with the app, in the order of the numbers in their files' names: from one chord
 * to long forms. The first is the one a first visit finds.
 * @throws RangeError when a file there is no chart
 */
export function readPresets(): readonly Preset[] {
  return Object.keys(FILES)
    .sort()
    .map((path) => {
      const id = /\d+-(.+)\.json$/.exec(path)?.[1] ?? path;
      const read = readProject(FILES[path]!);
      if (!read.ok) throw new RangeError(`${path}: ${read.error.message}`);
      return { id, project: read.value.project };
    });
}
