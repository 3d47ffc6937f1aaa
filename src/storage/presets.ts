import type { Preset } from '../ui/ports.ts';
import { readPreset } from './first-preset.ts';

const FILES = import.meta.glob<string>('../../presets/charts/*.json', {
  query: '?raw',
  import: 'default',
  eager: true,
});

let all: readonly Preset[] | null = null;

/**
 * The charts that come with the app, in the order of the numbers in their files' names: from one chord
 * to long forms. An id is the file's name without its number. They are read once, when first asked for.
 * @throws RangeError when a file there is no chart
 */
export const readPresets = (): readonly Preset[] =>
  (all ??= Object.keys(FILES)
    .sort()
    .map((path) => readPreset(path, FILES[path]!)));
