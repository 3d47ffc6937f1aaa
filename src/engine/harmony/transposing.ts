import type { Interval } from './names.ts';

/** Which instrument the names are written for. */
export type TransposingId =
  'concert' | 'b-flat' | 'b-flat-low' | 'e-flat' | 'e-flat-low' | 'f' | 'octave-lower' | 'octave-higher';

/** An instrument whose part is written at another pitch than it sounds. */
export interface Transposing {
  readonly id: TransposingId;
  /** E.g. "B♭ instrument". */
  readonly name: string;
  /** Who plays it, e.g. "trumpet, clarinet". */
  readonly players: string;
  /** From what sounds to what is written. */
  readonly written: Interval;
}

/**
 * Instruments as "id | name | who | letters and semitones from what sounds up to what is written". Common practice.
 */
const TABLE = `
concert       | concert pitch                 | as it sounds                           | 0 0
b-flat        | B♭ instrument                 | trumpet, clarinet, soprano saxophone   | 1 2
b-flat-low    | B♭ instrument, octave lower   | tenor saxophone                        | 8 14
e-flat        | E♭ instrument                 | alto saxophone                         | 5 9
e-flat-low    | E♭ instrument, octave lower   | baritone saxophone                     | 12 21
f             | F instrument                  | horn                                   | 4 7
octave-lower  | instrument an octave lower    | guitar, double bass                    | 7 12
octave-higher | instrument an octave higher   | piccolo                                | -7 -12
`;

export const TRANSPOSING: readonly Transposing[] = Object.freeze(
  TABLE.split('\n')
    .filter(Boolean)
    .map((line) => {
      const [id, name, players, interval] = line.split('|').map((cell) => cell.trim()) as [
        TransposingId,
        string,
        string,
        string,
      ];
      const [letters, semitones] = interval.split(' ').map(Number) as [number, number];
      return Object.freeze({ id, name, players, written: Object.freeze({ letters, semitones }) });
    }),
);

/**
 * How far what an instrument reads lies above what sounds: names go through `transposeName`, chords
 * through `transposeChord`, scales through `transposeScale`, keys up by its semitones. What sounds never changes.
 * @throws RangeError when there is no such instrument
 */
export function transposedFor(id: TransposingId): Interval {
  const found = TRANSPOSING.find((instrument) => instrument.id === id);
  if (found === undefined) throw new RangeError(`no instrument is written for as "${id}"`);
  return found.written;
}
