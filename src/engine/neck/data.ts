/**
 * Tunings: "id | name | open strings". Open strings stand from the bass side to the treble side, in scientific
 * pitch names: middle C is C4. They sound as named; guitar and bass are written an octave higher.
 *
 * Sources: the standard tunings of guitar and bass as in `shared/reference/tuning-frets.json`; the others
 * common practice.
 */
import { readTuning } from './open-strings.ts';

const TABLE = `
guitar          | Guitar                        | E2 A2 D3 G3 B3 E4
guitar-7        | Guitar, seven strings         | B1 E2 A2 D3 G3 B3 E4
guitar-7-a      | Guitar, seven strings, low A  | A1 E2 A2 D3 G3 B3 E4
guitar-8        | Guitar, eight strings         | F#1 B1 E2 A2 D3 G3 B3 E4
drop-d          | Guitar, low string to D       | D2 A2 D3 G3 B3 E4
double-drop-d   | Guitar, outer strings to D    | D2 A2 D3 G3 B3 D4
dadgad          | Guitar, D A D G A D           | D2 A2 D3 G3 A3 D4
open-d          | Guitar, open D                | D2 A2 D3 F#3 A3 D4
open-e          | Guitar, open E                | E2 B2 E3 G#3 B3 E4
open-g          | Guitar, open G                | D2 G2 D3 G3 B3 D4
open-c          | Guitar, open C                | C2 G2 C3 G3 C4 E4
fourths         | Guitar, all fourths           | E2 A2 D3 G3 C4 F4
thirds          | Guitar, all major thirds      | G#2 C3 E3 G#3 C4 E4
semitone-down   | Guitar, a semitone down       | Eb2 Ab2 Db3 Gb3 Bb3 Eb4
tone-down       | Guitar, a whole tone down     | D2 G2 C3 F3 A3 D4
baritone        | Baritone guitar               | B1 E2 A2 D3 F#3 B3
tenor           | Tenor guitar, in fifths       | C3 G3 D4 A4
tenor-top       | Four strings, D G B E         | D3 G3 B3 E4
bass            | Bass                          | E1 A1 D2 G2
bass-5          | Bass, five strings            | B0 E1 A1 D2 G2
bass-5-high     | Bass, five strings, high C    | E1 A1 D2 G2 C3
bass-6          | Bass, six strings             | B0 E1 A1 D2 G2 C3
ukulele         | Ukulele                       | G4 C4 E4 A4
ukulele-low     | Ukulele, low G                | G3 C4 E4 A4
mandolin        | Mandolin                      | G3 D4 A4 E5
`;

/** A tuning to choose. */
export interface Tuning {
  readonly id: string;
  readonly name: string;
  /** Open strings as MIDI keys, from the bass side to the treble side. */
  readonly open: readonly number[];
}

export const TUNINGS: readonly Tuning[] = Object.freeze(
  TABLE.split('\n')
    .filter(Boolean)
    .map((line) => {
      const [id, name, strings] = line.split('|').map((cell) => cell.trim()) as [string, string, string];
      const open = readTuning(strings);
      if (!open.ok) throw new RangeError(`${name}: ${open.error.message}`);
      return Object.freeze({ id, name, open: Object.freeze(open.value) });
    }),
);
