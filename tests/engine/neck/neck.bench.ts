import { bench, describe } from 'vitest';
import { coverNeck } from '../../../src/engine/neck/cover.ts';
import { GUITAR, scaleForms } from '../../../src/engine/neck/index.ts';
import { scaleList } from '../../../src/engine/scales/index.ts';
import { everyPlace, scale } from '../../helpers/neck.ts';
import { ROOTS } from '../../helpers/voicing.ts';

const ALL = scaleList().flatMap(({ id }) => ROOTS.map((root) => scale(id, root)));

describe(`all ${ALL.length} scales in all keys on a guitar`, () => {
  bench('their forms, as the page asks for them', () => {
    for (const { notes } of ALL) scaleForms(notes, GUITAR);
  });
  bench('their places alone, trying every fret', () => {
    for (const choice of ALL) everyPlace(choice, GUITAR);
  });
});

describe('the altered scale on a guitar', () => {
  const { notes } = scale('altered', 'C');
  const open = GUITAR.tuning.map((key) => key - GUITAR.tuning[0]!);
  const pcs = notes.map(({ pc }) => (pc + 12 - (GUITAR.tuning[0]! % 12)) % 12);

  bench('its forms, searched anew', () => {
    coverNeck(open, (semitone) => pcs.includes(((semitone % 12) + 12) % 12));
  });
  bench('its forms, remembered', () => {
    scaleForms(notes, GUITAR);
  });
});
