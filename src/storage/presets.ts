import type { Preset } from '../ui/ports.ts';
import { readProject } from './file.ts';

const FILES = import.meta.glob<string>('../../presets/charts/*.json', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/**
 * The charts that come with the app, in the order of the numbers in their files' names: from one chord
 * to long forms. An id is the file's name without its number. The first is the one a first visit finds.
 * @throws RangeError when a file there is no chart
 */
export function readPresets(): readonly Preset[] {
  return Object.keys(FILES)
    .sort()
    .map((path) => {
      const id = /\d+-(.+)\.json$/.exec(path)?.[1] ?? path;
      const read = readProject(FILES[path]!);
      if (!read.ok) throw new RangeError(`${path}: ${read.error.message}`);
      const { project } = read.value;
      return { id, title: project.title, sentence: project.words, project };
    });
}
