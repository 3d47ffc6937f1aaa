/**
 * Tunings: "id | name | open strings". Open strings stand from the bass side to the treble side, in scientific
 * pitch names: middle C is C4. They sound as named;
 * guitar and bass are written an octave higher.
 *
 * Sources: the standard tunings of guitar and bass as in `shared/reference/tuning-frets.json`; the others
 * common practice.
 */
const TABLE = `
guitar          | Guitar                        | E2 A2 D3 G3 B3 E4
`;

/** A tuning to choose. */
export interface Tuning {
  readonly id: string;
  readonly name: string;
  /** Open strings as MIDI keys, in the order of {@link NeckSetting.tuning}. */
  readonly open: readonly number[];
}

const LETTERS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

function keyOf(name: string): number {
  const [, letter, sign, octave] = /^([A-G])([b#]?)(\d)$/.exec(name)!;
  return 12 * (Number(octave) + 1) + LETTERS[letter!]! + (sign === '#' ? 1 : sign === 'b' ? -1 : 0);
}

export const TUNINGS: readonly Tuning[] = Object.freeze(
  TABLE.split('\n')
    .filter(Boolean)
    .map((line) => {
      const [id, name, open] = line.split('|').map((cell) => cell.trim()) as [string, string, string];
      return Object.freeze({ id, name, open: Object.freeze(open.split(' ').map(keyOf)) });
    }),
);
