import { nameOfKey, prettyDegree, prettyName, type Tone } from '../../engine/index.ts';
import { useWritten } from '../chord/use-written.ts';
import { useSession } from '../context.ts';
import type { Mark } from './layers.ts';

/** How the notes of the neck and of the keys are named, as the player likes it. */
export function useLabels() {
  const { preferences } = useSession();
  const written = useWritten();
  const nameOf = (tone: Tone): string => {
    const { name, plain } = written().note(tone);
    return prettyName(preferences.values.spelling === 'degree' ? name : plain);
  };
  const toneOf = (tone: Tone): string =>
    preferences.values.neck.labels === 'degrees' ? prettyDegree(tone.degree) : nameOf(tone);
  return {
    /** What stands in a note's shape. */
    mark: ({ note, finger }: Mark): string =>
      preferences.values.neck.labels === 'fingers' && finger !== null ? String(finger) : toneOf(note),
    tone: toneOf,
    /** A note by name and degree: "A♭ ♭9". */
    name: ({ note }: Mark): string => `${nameOf(note)} ${prettyDegree(note.degree)}`,
    /** A string by its open note, as it sounds. */
    string: (string: number): string => {
      const { tuning, capo } = preferences.values.neck;
      return prettyName(nameOfKey(tuning[tuning.length - string]! + capo).replace(/\d+$/, ''));
    },
  };
}
