/**
 * The chord kinds of MusicXML 4.0 as degrees above the root, from the prose of `kind-value` in its schema;
 * checked by pitch class against `shared/reference/musicxml-kinds.json`. The elevenths and thirteenths
 * hold every third below them, as the standard says, which chord symbols in practice do not.
 */
import type { Degree } from '../types.ts';

const TABLE = `
major               1 3 5
minor               1 b3 5
augmented           1 3 #5
diminished          1 b3 b5
dominant            1 3 5 b7
major-seventh       1 3 5 7
minor-seventh       1 b3 5 b7
diminished-seventh  1 b3 b5 bb7
augmented-seventh   1 3 #5 b7
half-diminished     1 b3 b5 b7
major-minor         1 b3 5 7
major-sixth         1 3 5 6
minor-sixth         1 b3 5 6
dominant-ninth      1 3 5 b7 9
major-ninth         1 3 5 7 9
minor-ninth         1 b3 5 b7 9
dominant-11th       1 3 5 b7 9 11
major-11th          1 3 5 7 9 11
minor-11th          1 b3 5 b7 9 11
dominant-13th       1 3 5 b7 9 11 13
major-13th          1 3 5 7 9 11 13
minor-13th          1 b3 5 b7 9 11 13
suspended-second    1 2 5
suspended-fourth    1 4 5
power               1 5
`;

/** Kind → degrees. */
export const KINDS: ReadonlyMap<string, readonly Degree[]> = new Map(
  TABLE.trim()
    .split('\n')
    .map((line) => {
      const [kind, ...degrees] = line.split(/\s+/) as [string, ...Degree[]];
      return [kind, Object.freeze(degrees)] as const;
    }),
);
