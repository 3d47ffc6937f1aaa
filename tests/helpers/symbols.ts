import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { readChord, type Chord } from '../../src/engine/harmony/index.ts';

const FOLDER = join(import.meta.dirname, '../engine/harmony/cases');

/** A spelling of a chord, and what it means: root, bass and degrees, e.g. "C/E: 1 3 5". */
export interface Spelling {
  readonly symbol: string;
  readonly heading: string;
}

const HEADING = /^[A-G][b#]*(?:\/[A-G][b#]*)?: .+$/;

/**
 * The spellings in a file of cases: a heading says what the spellings in the lines that follow mean, two
 * spaces part them, and a line that ends a sentence is a remark.
 */
function spellingsIn(file: string): readonly Spelling[] {
  const found: Spelling[] = [];
  let heading = '';
  for (const line of readFileSync(join(FOLDER, file), 'utf8').split('\n')) {
    if (HEADING.test(line)) heading = line;
    else if (line !== '' && !/^[A-Z][a-z].*\.$/.test(line)) {
      for (const symbol of line.split(/ {2,}/)) found.push({ symbol, heading });
    }
  }
  return found;
}

/** Every readable symbol of the cases. */
export const spellings: readonly Spelling[] = readdirSync(FOLDER)
  .filter((file) => file !== 'refused.txt')
  .sort()
  .flatMap(spellingsIn);

/** A symbol that is refused: its flawed stretch as "from-to", and the nearest reading, null where none is near. */
export interface Refusal {
  readonly symbol: string;
  readonly place: string;
  readonly near: string | null;
}

/** Every refused symbol of the cases, one a line: `symbol | place | near`, `-` where nothing is near. */
export const refusals: readonly Refusal[] = readFileSync(join(FOLDER, 'refused.txt'), 'utf8')
  .split('\n')
  .map((line) => line.split(' | '))
  .filter((cells) => cells.length === 3)
  .map(([symbol, place, near]) => ({ symbol: symbol!, place: place!, near: near === '-' ? null : near! }));

/** A symbol that must read: one that does not is the test's own mistake. */
export function read(symbol: string): Chord {
  const result = readChord(symbol);
  if (result.ok) return result.value;
  throw new RangeError(`${symbol}: ${result.error.message}`);
}
