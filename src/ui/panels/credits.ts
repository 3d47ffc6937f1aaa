import type { Credit } from '../ports.ts';
import bricolage from '../style/fonts/OFL-Bricolage-Grotesque.txt?url&no-inline';
import encode from '../style/fonts/OFL-Encode-Sans.txt?url&no-inline';

const OFL = 'SIL Open Font Licence 1.1';

/** Whose the letters are. The signs (♭ ♯ Δ ø) are drawn for this program. */
export const FONT_CREDITS: readonly Credit[] = [
  {
    what: 'Chords and headings',
    source: 'Bricolage Grotesque, by The Bricolage Grotesque Project Authors',
    licence: OFL,
    changed: 'Cut down to the letters of chord symbols and headings, and given another name.',
    text: bricolage,
  },
  {
    what: 'All other words',
    source: 'Encode Sans, by The Encode Project Authors',
    licence: OFL,
    changed: 'Cut down to what English is written in, under another name; other letters as they come.',
    text: encode,
  },
];
