import type { Preset } from '../ui/ports.ts';
import { readProject } from './file.ts';

const FIRST = import.meta.glob<string>('../../presets/charts/01-*.json', {
  query: '?raw',
  import: 'default',
  eager: true,
});

/** The chart that a first visit finds, apart from the others, which come when they are asked for. */
export const readFirstPreset = (): Preset => {
  const [[path, text] = ['presets/charts/01-*.json', '']] = Object.entries(FIRST);
  return readPreset(path, text);
};

/**
 * A chart that comes with the app; its id is the file's name without its number.
 * @throws RangeError when the file is no chart
 */
export function readPreset(path: string, text: string): Preset {
  const id = /\d+-(.+)\.json$/.exec(path)?.[1] ?? path;
  const read = readProject(text);
  if (!read.ok) throw new RangeError(`${path}: ${read.error.message}`);
  const { project } = read.value;
  return { id, title: project.title, sentence: project.words, project };
}
