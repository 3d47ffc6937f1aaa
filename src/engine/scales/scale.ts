import {
  degreeInterval,
  mod,
  pitchClass,
  plainName,
  roleOf,
  spell,
  transposeName,
  type Chord,
  type Degree,
  type NoteName,
} from '../harmony/index.ts';
import { SCALES, type Scale } from './data.ts';
import type { ScaleChoice, ScaleNote } from './types.ts';

const BY_ID: ReadonlyMap<string, Scale> = new Map(SCALES.map((scale) => [scale.id, scale]));

/** A scale of the table; null when there is none of that id. */
export const findScale = (id: string): Scale | null => BY_ID.get(id) ?? null;

/** The scale on a root, each note with the part it plays over `chord`. */
export function scaleOver(chord: Chord, scale: Scale, reason: string): ScaleChoice {
  return {
    ...frame(scale, chord.root, reason),
    notes: scale.degrees.map((degree) => noteOf(chord.root, degree, roleOf(chord, degree))),
  };
}

function frame(scale: Scale, root: NoteName, reason: string): Omit<ScaleChoice, 'notes'> {
  return {
    id: scale.id,
    root,
    name: `${root} ${scale.name}`,
    parent: parentOf(scale, root),
    reason,
  };
}

function noteOf(root: NoteName, degree: Degree, role: ScaleNote['role']): ScaleNote {
  const name = spell(root, degree);
  return { degree, name, plain: plainName(name), pc: pitchClass(name), role };
}

/** The parent view: which scale, on which root, this one is a mode of. */
function parentOf(scale: Scale, root: NoteName): ScaleChoice['parent'] {
  const parent = scale.parent && findScale(scale.parent.id);
  if (!scale.parent || !parent) return null;
  const { degree } = scale.parent;
  const up = degreeInterval(parent.degrees[degree - 1]!);
  const letters = mod(up.letters, 7);
  const semitones = mod(up.semitones, 12);
  const tonic = plainName(transposeName(root, { letters: -letters, semitones: -semitones }));
  return { name: `${tonic} ${parent.name}`, degree };
}

/**
 * A scale the player picked, over a chord on `root`: roles are told against the scale's own chord.
 * @returns null when no scale has that id
 */
export function scaleById(id: string, chord: Chord): ScaleChoice | null {
  const scale = findScale(id);
  return scale && scaleOver(chord, scale, 'picked by hand');
}
