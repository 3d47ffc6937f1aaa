import {
  degreeSemitones,
  isDominant,
  pitchClass,
  plainName,
  readChord,
  spell,
  type Chord,
  type Degree,
} from '../harmony/index.ts';
import { ALTERATIONS, PLAIN_SUFFIX, TREATMENTS } from './data.ts';
import type { TreatmentKind } from './types.ts';

const known = new WeakMap<Chord, Map<TreatmentKind, Chord | null>>();

/**
 * A dominant in another colour.
 *
 * A slash bass stays, unless it is one of the natural degrees the colour does away with (a fifth in the
 * bass under an altered chord): then the root is the bass. The tritone substitute always stands on its
 * own root, since the bass moves too. `plain` keeps an unaltered dominant as it is written. Our choice.
 * @param kind `suspended-first` gives the suspended chord; its second half is {@link resolvedChord}
 * @returns null when `chord` is no dominant
 */
export function applyTreatment(chord: Chord, kind: TreatmentKind): Chord | null {
  let treated = known.get(chord);
  if (treated === undefined) known.set(chord, (treated = new Map<TreatmentKind, Chord | null>()));
  let result = treated.get(kind);
  if (result === undefined) treated.set(kind, (result = isDominant(chord) ? colour(chord, kind) : null));
  return result;
}

/** The chord a suspension resolves to: the chord itself, or its dominant where it is written suspended. */
export function resolvedChord(chord: Chord): Chord {
  return chord.family === 'suspended' ? read(chord.root + PLAIN_SUFFIX + slashBass(chord, [])) : chord;
}

function colour(chord: Chord, kind: TreatmentKind): Chord {
  const { suffix, replaces } = TREATMENTS[kind];
  if (kind === 'tritone-substitute') return read(plainName(spell(chord.root, 'b5')) + suffix!);
  if (kind === 'altered' && chord.altered) return chord;
  if (suffix === null && !chord.degrees.some((degree) => ALTERATIONS.includes(degree))) return chord;
  return read(chord.root + (suffix ?? PLAIN_SUFFIX) + slashBass(chord, replaces));
}

/** The slash and bass of `chord` as written, or nothing where the bass is one of the degrees `replaced`. */
function slashBass(chord: Chord, replaced: readonly Degree[]): string {
  if (chord.bass === null) return '';
  const above = (pitchClass(chord.bass) - pitchClass(chord.root) + 12) % 12;
  return replaced.some((degree) => degreeSemitones(degree) % 12 === above) ? '' : `/${chord.bass}`;
}

function read(symbol: string): Chord {
  const result = readChord(symbol);
  if (!result.ok) throw new RangeError(`the treatment table makes "${symbol}", which is no chord symbol`);
  return result.value;
}
