import { chordPitchClasses, type Chord } from '../harmony/index.ts';
import { scaleById } from './scale.ts';
import type { ScaleChoice } from './types.ts';

/**
 * True where a scale can be picked: anywhere as the chart stands; under a treatment only where it is
 * offered or has every note that sounds. Our choice, because there the colour comes first.
 */
export function canPick(
  id: string,
  chord: Chord,
  treated: boolean,
  offered: readonly ScaleChoice[],
): boolean {
  if (!treated || offered.some((choice) => choice.id === id)) return true;
  const notes = scaleById(id, chord.root, chord)?.notes ?? [];
  return chordPitchClasses(chord).every((pc) => notes.some((note) => note.pc === pc));
}

/** The scale a player has picked, where it can be; else the one suggested first; null where there is none. */
export function pickedOr(
  pick: string | null,
  chord: Chord,
  treated: boolean,
  offered: readonly ScaleChoice[],
): ScaleChoice | null {
  const first = offered[0] ?? null;
  if (pick === null || !canPick(pick, chord, treated, offered)) return first;
  return offered.find(({ id }) => id === pick) ?? scaleById(pick, chord.root, chord) ?? first;
}
