import { useSession } from '../context.ts';
import { writtenFor, type Written } from './written.ts';

/** What the player of this page reads; to be asked anew wherever it is shown. */
export function useWritten(): () => Written {
  const { preferences } = useSession();
  return () => writtenFor(preferences.values.written);
}
