import { beats, type NoteEvent } from '../engine/index.ts';

/** Notes so close together are one chord. */
const TOGETHER = beats(0.125);

/**
 * The chord of the comping that is struck at a tick or after it, else the last before it.
 * @param notes of the comping, in order of onset
 * @param belongs whether a note belongs to what sounds; a chord counts if all its notes do
 */
export function attackAt(
  beat: number,
  notes: readonly NoteEvent[],
  belongs: (note: NoteEvent) => boolean,
): readonly NoteEvent[] {
  const attacks: NoteEvent[][] = [];
  for (const note of notes) {
    const last = attacks.at(-1);
    if (last !== undefined && note.at - last[0]!.at <= TOGETHER) last.push(note);
    else attacks.push([note]);
  }
  const whole = attacks.filter((notes) => notes.every(belongs));
  return whole.find((notes) => notes[0]!.at >= beat) ?? whole.at(-1) ?? [];
}
