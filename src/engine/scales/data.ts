/**
 * The scales, each as its degrees over the root of the chord it is played on.
 *
 * Degrees are named as a player names them over a chord: 9, 11 and 13 for the notes between the chord
 * tones, and b5, #5 or #11, b13 according to whether they replace the fifth or lie above it. Their letters
 * follow their numbers. Sets: common practice; pitch classes checked against
 * `shared/reference/pitch-class-sets.json` and tonal's dictionary.
 *
 * parent: the scale this one is a mode of, and which of its degrees the root is; null for scales that
 * are their own parent.
 */
import type { Degree } from '../harmony/index.ts';

export interface Scale {
  readonly id: string;
  /** The name behind the root, e.g. "altered". */
  readonly name: string;
  readonly degrees: readonly Degree[];
  readonly parent: { readonly id: string; readonly degree: number } | null;
}

const scale = (
  id: string,
  degrees: string,
  parent: Scale['parent'] = null,
  name = id.replaceAll('-', ' '),
): Scale => Object.freeze({ id, name, degrees: Object.freeze(degrees.split(' ') as Degree[]), parent });

const modeOf = (id: string, degree: number): Scale['parent'] => Object.freeze({ id, degree });

export const SCALES: readonly Scale[] = Object.freeze([
  // Modes of the major scale.
  scale('major', '1 9 3 11 5 13 7', null),
  scale('dorian', '1 9 b3 11 5 13 b7', modeOf('major', 2)),
  scale('phrygian', '1 b9 b3 11 5 b13 b7', modeOf('major', 3)),
  scale('lydian', '1 9 3 #11 5 13 7', modeOf('major', 4)),
  scale('mixolydian', '1 9 3 11 5 13 b7', modeOf('major', 5)),
  scale('aeolian', '1 9 b3 11 5 b13 b7', modeOf('major', 6)),
  scale('locrian', '1 b9 b3 11 b5 b13 b7', modeOf('major', 7)),
  // Modes of the melodic minor scale, ascending.
  scale('melodic-minor', '1 9 b3 11 5 13 7'),
  scale('dorian-flat-two', '1 b9 b3 11 5 13 b7', modeOf('melodic-minor', 2), 'dorian b2'),
  scale('lydian-augmented', '1 9 3 #11 #5 13 7', modeOf('melodic-minor', 3)),
  scale('lydian-dominant', '1 9 3 #11 5 13 b7', modeOf('melodic-minor', 4)),
  scale('mixolydian-flat-six', '1 9 3 11 5 b13 b7', modeOf('melodic-minor', 5), 'mixolydian b6'),
  scale('locrian-natural-two', '1 9 b3 11 b5 b13 b7', modeOf('melodic-minor', 6), 'locrian natural 2'),
  scale('altered', '1 b9 #9 3 b5 #5 b7', modeOf('melodic-minor', 7)),
  // Modes of the harmonic minor scale.
  scale('harmonic-minor', '1 9 b3 11 5 b13 7'),
  scale('locrian-natural-six', '1 b9 b3 11 b5 13 b7', modeOf('harmonic-minor', 2), 'locrian natural 6'),
  scale('major-sharp-five', '1 9 3 11 #5 13 7', modeOf('harmonic-minor', 3), 'major #5'),
  scale('dorian-sharp-four', '1 9 b3 #11 5 13 b7', modeOf('harmonic-minor', 4), 'dorian #4'),
  scale('phrygian-dominant', '1 b9 3 11 5 b13 b7', modeOf('harmonic-minor', 5)),
  scale('lydian-sharp-two', '1 #9 3 #11 5 13 7', modeOf('harmonic-minor', 6), 'lydian #2'),
  scale('ultralocrian', '1 b9 b3 b11 b5 b13 bb7', modeOf('harmonic-minor', 7)),
  // Modes of the harmonic major scale.
  scale('harmonic-major', '1 9 3 11 5 b13 7'),
  scale('dorian-flat-five', '1 9 b3 11 b5 13 b7', modeOf('harmonic-major', 2), 'dorian b5'),
  scale('phrygian-flat-four', '1 b9 b3 b11 5 b13 b7', modeOf('harmonic-major', 3), 'phrygian b4'),
  scale('lydian-flat-three', '1 9 b3 #11 5 13 7', modeOf('harmonic-major', 4), 'lydian b3'),
  scale('mixolydian-flat-two', '1 b9 3 11 5 13 b7', modeOf('harmonic-major', 5), 'mixolydian b2'),
  scale(
    'lydian-augmented-sharp-two',
    '1 #9 3 #11 #5 13 7',
    modeOf('harmonic-major', 6),
    'lydian augmented #2',
  ),
  scale('locrian-double-flat-seven', '1 b9 b3 11 b5 b13 bb7', modeOf('harmonic-major', 7), 'locrian bb7'),
  // Scales of equal or alternating steps.
  scale('whole-tone', '1 9 3 #11 #5 b7'),
  scale('half-whole-diminished', '1 b9 #9 3 #11 5 13 b7', null, 'half-whole diminished'),
  scale('whole-half-diminished', '1 9 b3 11 b5 b13 bb7 7', null, 'whole-half diminished'),
  // Eight-note scales: a passing tone puts the chord tones on the beat.
  scale('bebop-dominant', '1 9 3 11 5 13 b7 7'),
  scale('bebop-major', '1 9 3 11 5 #5 13 7'),
  scale('bebop-minor', '1 9 b3 3 11 5 13 b7'),
  // Blues and pentatonics from the root.
  scale('blues', '1 b3 11 b5 5 b7'),
  scale('major-blues', '1 9 b3 3 5 13'),
  scale('major-pentatonic', '1 9 3 5 13'),
  scale('minor-pentatonic', '1 b3 11 5 b7'),
]);
