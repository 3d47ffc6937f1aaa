import { pitchClass, plainName, readable, spell, transposeName, type Interval } from '../harmony/index.ts';
import { scaleById } from './scale.ts';
import type { ScaleChoice } from './types.ts';

/**
 * A scale moved by an interval: its names, its notes and its parent; degrees, roles and the reason stay.
 * A root that would need a double accidental is written plainly.
 */
export function transposeScale(choice: ScaleChoice, by: Interval): ScaleChoice {
  const root = readable(transposeName(choice.root, by));
  const { name, parent } = scaleById(choice.id, root) ?? choice;
  const notes = choice.notes.map((note) => {
    const moved = spell(root, note.degree);
    return { ...note, name: moved, plain: plainName(moved), pc: pitchClass(moved) };
  });
  return { ...choice, root, name, parent, notes };
}
