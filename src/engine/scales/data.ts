/**
 * The scales, each as its degrees over the root of the chord it is played on.
 *
 * A line of the table reads "id | name | degrees | parent". Degrees are named as a player names them over
 * a chord: 9, 11 and 13 between the chord tones; b5 and #5 where they replace the fifth, #11 and b13 where
 * they lie above it; their letters follow their numbers. A degree in brackets is a note on the way, unless the
 * chord has it: what the eight-note scales put between two chord tones, and the blue notes. The parent is the scale this one is a mode of and the
 * degree of it the root is; "-" for scales that are their own parent.
 *
 * Sources: common practice; the sets are checked against `shared/reference/pitch-class-sets.json`, against
 * tonal's dictionary and by rotating the parents. Bebop scales after David Baker, How to Play Bebop (from
 * memory).
 */
import type { Degree } from '../harmony/index.ts';

export interface Scale {
  readonly id: string;
  /** What stands behind the root in its name, e.g. "altered". */
  readonly name: string;
  readonly degrees: readonly Degree[];
  readonly passing: readonly Degree[];
  readonly parent: { readonly id: string; readonly degree: number } | null;
}

const TABLE = `
major                      | major                     | 1 9 3 11 5 13 7          | -
dorian                     | dorian                    | 1 9 b3 11 5 13 b7        | major 2
phrygian                   | phrygian                  | 1 b9 b3 11 5 b13 b7      | major 3
lydian                     | lydian                    | 1 9 3 #11 5 13 7         | major 4
mixolydian                 | mixolydian                | 1 9 3 11 5 13 b7         | major 5
aeolian                    | aeolian                   | 1 9 b3 11 5 b13 b7       | major 6
locrian                    | locrian                   | 1 b9 b3 11 b5 b13 b7     | major 7

melodic-minor              | melodic minor             | 1 9 b3 11 5 13 7         | -
dorian-flat-two            | dorian b2                 | 1 b9 b3 11 5 13 b7       | melodic-minor 2
lydian-augmented           | lydian augmented          | 1 9 3 #11 #5 13 7        | melodic-minor 3
lydian-dominant            | lydian dominant           | 1 9 3 #11 5 13 b7        | melodic-minor 4
mixolydian-flat-six        | mixolydian b6             | 1 9 3 11 5 b13 b7        | melodic-minor 5
locrian-natural-two        | locrian natural 2         | 1 9 b3 11 b5 b13 b7      | melodic-minor 6
altered                    | altered                   | 1 b9 #9 3 b5 #5 b7       | melodic-minor 7

harmonic-minor             | harmonic minor            | 1 9 b3 11 5 b13 7        | -
locrian-natural-six        | locrian natural 6         | 1 b9 b3 11 b5 13 b7      | harmonic-minor 2
major-sharp-five           | major #5                  | 1 9 3 11 #5 13 7         | harmonic-minor 3
dorian-sharp-four          | dorian #4                 | 1 9 b3 #11 5 13 b7       | harmonic-minor 4
phrygian-dominant          | phrygian dominant         | 1 b9 3 11 5 b13 b7       | harmonic-minor 5
lydian-sharp-two           | lydian #2                 | 1 #9 3 #11 5 13 7        | harmonic-minor 6
ultralocrian               | ultralocrian              | 1 b9 b3 b11 b5 b13 bb7   | harmonic-minor 7

harmonic-major             | harmonic major            | 1 9 3 11 5 b13 7         | -
dorian-flat-five           | dorian b5                 | 1 9 b3 11 b5 13 b7       | harmonic-major 2
phrygian-flat-four         | phrygian b4               | 1 b9 b3 b11 5 b13 b7     | harmonic-major 3
melodic-minor-sharp-four   | melodic minor #4          | 1 9 b3 #11 5 13 7        | harmonic-major 4
mixolydian-flat-two        | mixolydian b2             | 1 b9 3 11 5 13 b7        | harmonic-major 5
lydian-augmented-sharp-two | lydian augmented #2       | 1 #9 3 #11 #5 13 7       | harmonic-major 6
locrian-double-flat-seven  | locrian bb7               | 1 b9 b3 11 b5 b13 bb7    | harmonic-major 7

whole-tone                 | whole tone                | 1 9 3 #11 #5 b7          | -
half-whole-diminished      | half-whole diminished     | 1 b9 #9 3 #11 5 13 b7    | -
whole-half-diminished      | whole-half diminished     | 1 9 b3 11 b5 b13 bb7 7   | -

bebop-dominant             | bebop dominant            | 1 9 3 11 5 13 b7 (7)     | -
bebop-major                | bebop major               | 1 9 3 11 5 (#5) 13 7     | -
bebop-minor                | bebop minor               | 1 9 b3 (3) 11 5 13 b7    | -

blues                      | blues                     | 1 (b3) 11 (b5) 5 b7      | -
major-blues                | major blues               | 1 9 (b3) 3 5 13          | -
major-pentatonic           | major pentatonic          | 1 9 3 5 13               | -
minor-pentatonic           | minor pentatonic          | 1 (b3) 11 5 b7           | -
`;

function parse(line: string): Scale {
  const [id, name, listed, parent] = line.split('|').map((cell) => cell.trim()) as [
    string,
    string,
    string,
    string,
  ];
  const [parentId, degree] = parent.split(' ') as [string, string?];
  const tokens = listed.split(' ');
  const bare = (token: string): Degree => token.replace(/[()]/g, '') as Degree;
  return Object.freeze({
    id,
    name,
    degrees: Object.freeze(tokens.map(bare)),
    passing: Object.freeze(tokens.filter((token) => token.startsWith('(')).map(bare)),
    parent: degree === undefined ? null : Object.freeze({ id: parentId, degree: Number(degree) }),
  });
}

export const SCALES: readonly Scale[] = Object.freeze(TABLE.split('\n').filter(Boolean).map(parse));

/**
 * Pentatonics a player lays over a chord from another of its notes: "shape | degree it starts on | scale it
 * is part of". Five notes of that scale, all of them colour. Common practice; the containment is computed.
 */
const OVERLAYS = `
minor-pentatonic | #9 | altered
minor-pentatonic | b3 | locrian
minor-pentatonic | 5  | dorian
minor-pentatonic | 9  | dorian
minor-pentatonic | 3  | major
major-pentatonic | 5  | major
major-pentatonic | 9  | lydian
major-pentatonic | b7 | mixolydian
`;

export interface Overlay {
  readonly id: string;
  readonly shape: string;
  readonly on: Degree;
  readonly within: string;
}

export const SUPERIMPOSED: readonly Overlay[] = Object.freeze(
  OVERLAYS.split('\n')
    .filter(Boolean)
    .map((line) => {
      const [shape, on, within] = line.split('|').map((cell) => cell.trim()) as [string, Degree, string];
      return Object.freeze({ id: `${shape}-on-${on}`, shape, on, within });
    }),
);
