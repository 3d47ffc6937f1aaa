import { pitchClass, type HomeKey, type NoteName } from '../../engine/index.ts';

/** The twelve tonics as they are usually spelled. Common practice: minor keys take the sharper names. */
const MAJOR: readonly NoteName[] = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
const MINOR: readonly NoteName[] = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'];

/** The tonics a key can be moved to, its own spelling among them. */
export function tonics(key: HomeKey): readonly NoteName[] {
  return (key.mode === 'minor' ? MINOR : MAJOR).map((name) =>
    pitchClass(name) === pitchClass(key.tonic) ? key.tonic : name,
  );
}
