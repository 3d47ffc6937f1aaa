import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { GUITAR, scaleForms } from '../../../src/engine/neck/index.ts';
import { scale } from '../../helpers/neck.ts';

const CASES = readFileSync(join(import.meta.dirname, 'cases/forms.txt'), 'utf8')
  .split('\n')
  .filter((line) => line.trim() !== '' && !line.startsWith('#'))
  .map((line) => line.split('|').map((cell) => cell.trim()));

it.each(CASES)('%s has form %s', (named, number, ...strings) => {
  const [root, id] = named.split(/ +/) as [string, string];
  const forms = scaleForms(scale(id, root).notes, GUITAR).filter((form) => form.number === Number(number));
  const laid = forms.map(({ notes }) =>
    [6, 5, 4, 3, 2, 1].map((own) =>
      notes
        .filter(({ string }) => string === own)
        .map(({ fret, finger }) => `${fret}:${finger}`)
        .join(' '),
    ),
  );
  expect(laid).toContainEqual(strings);
});
