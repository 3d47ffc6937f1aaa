import type { Credit } from '../ui/ports.ts';
import text from './samples/LICENSE.txt?url&no-inline';

/** Whose the sounds are. */
export const SOUND_CREDITS: readonly Credit[] = [
  {
    what: 'Bass, pianos, guitar, drums and click',
    source: 'FluidR3 GM, a soundfont by Frank Wen and others',
    licence: 'MIT licence',
    changed: 'Single notes were rendered, trimmed, tuned, levelled and encoded anew.',
    text,
  },
];
