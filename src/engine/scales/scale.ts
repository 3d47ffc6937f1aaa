import {
  commonName,
  degreeInterval,
  degreeSemitones,
  pitchClass,
  plainName,
  roleOf,
  spell,
  transposeName,
  type Chord,
  type Degree,
  type NoteName,
  type Role,
} from '../harmony/index.ts';
import { SCALES, SUPERIMPOSED, type Overlay, type Scale } from './data.ts';
import type { ScaleChoice, ScaleNote } from './types.ts';

/** A scale, and for an overlay the shape it is played as. */
export type PlayableScale = Scale & { readonly overlay: Overlay | null };

const PLAYABLE: ReadonlyMap<string, PlayableScale> = tabulate();

function tabulate(): ReadonlyMap<string, PlayableScale> {
  const table = new Map<string, PlayableScale>(
    SCALES.map((scale) => [scale.id, { ...scale, overlay: null }]),
  );
  for (const overlay of SUPERIMPOSED) {
    const shape = table.get(overlay.shape)!;
    const within = table.get(overlay.within)!;
    const degrees = shape.degrees.map((degree) => {
      const tone = (degreeSemitones(overlay.on) + degreeSemitones(degree)) % 12;
      return within.degrees.find((own) => degreeSemitones(own) % 12 === tone)!;
    });
    table.set(overlay.id, { id: overlay.id, name: shape.name, degrees, passing: [], parent: null, overlay });
  }
  return table;
}

/** A scale a player can pick. */
export interface ScaleEntry {
  readonly id: string;
  /** E.g. "lydian dominant". */
  readonly name: string;
  readonly degrees: readonly Degree[];
}

/** Every scale a player can pick, in the order of the table. */
export const scaleList = (): readonly ScaleEntry[] =>
  [...PLAYABLE.values()].map(({ id, name, degrees, overlay }) => ({
    id,
    name: overlay ? `${name} from the ${overlay.on}` : name,
    degrees,
  }));

/** A scale of the table; null when there is none of that id. */
export const findScale = (id: string): PlayableScale | null => PLAYABLE.get(id) ?? null;

/** A scale on a root, each note with the part `roleOf` gives it. */
export function scaleOn(
  scale: PlayableScale,
  root: NoteName,
  role: (degree: Degree) => Role,
  reason: string,
): ScaleChoice {
  const notes = scale.degrees.map((degree): ScaleNote => {
    const name = spell(root, degree);
    return { degree, name, plain: plainName(name), pc: pitchClass(name), role: role(degree) };
  });
  return { id: scale.id, root, name: nameOn(scale, root), notes, parent: parentOf(scale, root), reason };
}

/** A scale over a chord. */
export const scaleOver = (scale: PlayableScale, chord: Chord, reason: string): ScaleChoice =>
  scaleOn(scale, chord.root, (degree) => roleOver(chord, scale, degree), reason);

/** A degree's part over a chord. What a scale has on the way is no tension, unless the chord has it too. */
function roleOver(chord: Chord, { passing }: PlayableScale, degree: Degree): Role {
  const tone = degreeSemitones(degree) % 12;
  const isOnTheWay =
    passing.includes(degree) && !chord.degrees.some((own) => degreeSemitones(own) % 12 === tone);
  return isOnTheWay ? 'scale' : roleOf(chord, degree);
}

/**
 * A scale the player picked.
 * @param chord the chord it is played over, for the parts of its notes; without one they are told from the
 * scale alone
 * @returns null when no scale has that id
 * @throws RangeError when `root` is not a note name
 */
export function scaleById(id: string, root: NoteName, chord: Chord | null = null): ScaleChoice | null {
  const scale = findScale(id);
  if (scale === null) return null;
  const role = chord ? (degree: Degree) => roleOver(chord, scale, degree) : roleInScale;
  return scaleOn(scale, root, role, 'Picked by hand.');
}

/** A degree's part where no chord is given: root, third and seventh, fifth, or one of the others. */
function roleInScale(degree: Degree): Role {
  const number = degree.replace(/[b#]/g, '');
  if (degree === '1') return 'root';
  if (number === '3' || number === '7') return 'guide';
  return number === '5' ? 'fifth' : 'scale';
}

function nameOn({ name, overlay }: PlayableScale, root: NoteName): string {
  if (!overlay) return `${root} ${name}`;
  return `${commonName(pitchClass(spell(root, overlay.on)))} ${name} over ${root}`;
}

/** The parent view: which scale, on which root, this one is a mode of. */
function parentOf({ parent }: PlayableScale, root: NoteName): ScaleChoice['parent'] {
  const own = parent && findScale(parent.id);
  if (!parent || !own) return null;
  const { letters, semitones } = degreeInterval(own.degrees[parent.degree - 1]!);
  const tonic = plainName(transposeName(root, { letters: -letters, semitones: -semitones }));
  return { name: `${tonic} ${own.name}`, degree: parent.degree };
}
