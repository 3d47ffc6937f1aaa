import { printChord, type Chord } from '../../engine/index.ts';
import { useSession } from '../context.ts';
import { useWritten } from './use-written.ts';

/**
 * How chords are named on the page: one consistent style, or as they were typed; for a transposing instrument as
 * it reads them.
 */
export function useChordName(): (chord: Chord) => string {
  const { preferences } = useSession();
  const written = useWritten();
  return (sounding) => {
    const { symbols } = preferences.values;
    const chord = written().chord(sounding);
    return symbols === 'typed' ? chord.text : printChord(chord, symbols);
  };
}
