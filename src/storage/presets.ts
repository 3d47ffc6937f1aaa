import type { Preset } from '../ui/ports.ts';
import { readProject } from './file.ts';

const FILES = import.meta.glob<string>('../../presets/charts/*.json', {
  query: '?raw',
  import: 'default',
  eager: true,
});

const paths = Object.keys(FILES).sort();
let all: readonly Preset[] | null = null;

/**
 * The charts that come with the app, in the order of the numbers in their files' names: from one chord
 * to long forms. An id is the file's name without its number. They are read once, when first asked for.
 * @throws RangeError when a file there is no chart
 */
export const readPresets = (): readonly Preset[] => (all ??= paths.map(readPreset));

/** The chart that a first visit finds. */
export const readFirstPreset = (): Preset => readPreset(paths[0]!);

function readPreset(path: string): Preset {
  const id = /\d+-(.+)\.json$/.exec(path)?.[1] ?? path;
  const read = readProject(FILES[path]!);
  if (!read.ok) throw new RangeError(`${path}: ${read.error.message}`);
  const { project } = read.value;
  return { id, title: project.title, sentence: project.words, project };
}
