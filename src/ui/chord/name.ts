import { printChord, type Chord } from '../../engine/index.ts';
import { useSession } from '../context.ts';

/** How chords are named on the page: one consistent style, or as they were typed. */
export function useChordName(): (chord: Chord) => string {
  const { preferences } = useSession();
  return (chord) => {
    const { symbols } = preferences.values;
    return symbols === 'typed' ? chord.text : printChord(chord, symbols);
  };
}
