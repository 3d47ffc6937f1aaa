import type { Changes } from '../changes.ts';
import { hasDegree } from '../chord.ts';
import { commonName, mod, pitchClass, plainName, transposeName } from '../names.ts';
import type { NoteName } from '../types.ts';
import { stretchesOf, type Stretch } from './chords.ts';
import { COSTS } from './data.ts';
import type { Hearing, KeyState } from './hear.ts';
import { hearAll, KEYS, keysFrom, shortestPath } from './path.ts';
import { tell } from './tell.ts';
import type { FunctionReading, Key } from './types.ts';

/**
 * How every span of the changes is heard: its local key, what it does there, and why. Keys are read
 * through the whole form at once, the form coming round to its beginning. Treatments are looked through:
 * a chord's function is that of the chord as written.
 * @param home the key the chart is in; found by {@link homeKey} when left out
 * @returns one reading for each span, null where there is no chord
 */
export function readKeys(
  changes: Changes,
  home: Key = homeKey(changes),
): readonly (FunctionReading | null)[] {
  const stretches = stretchesOf(changes);
  const heard = hearAll(stretches);
  const { keys } = shortestPath(heard, indexOf(home));
  const names = nameKeys(stretches, keys, home);
  const readings: (FunctionReading | null)[] = changes.spans.map(() => null);
  for (const [index, stretch] of stretches.entries()) {
    const reading = tell(stretches, index, names[index]!, heard[index]![keys[index]!]!);
    for (const span of stretch.spans) readings[span] = reading;
  }
  return readings;
}

/**
 * The key a chart is in: the one from which the whole of it can be explained with the least straying,
 * given that a form likes to begin or end on its tonic. C major where there are no chords.
 */
export function homeKey(changes: Changes): Key {
  const stretches = stretchesOf(changes);
  if (stretches.length === 0) return { tonic: 'C', mode: 'major' };
  const heard = hearAll(stretches);
  let best = 0;
  let least = Infinity;
  for (const index of keysFrom(stretches[0]!.root)) {
    const cost = shortestPath(heard, index).cost - COSTS.tonicEnd * restingEnds(heard, stretches, index);
    if (cost < least) [best, least] = [index, cost];
  }
  return { tonic: tonicName(stretches, KEYS[best]!), mode: KEYS[best]!.mode };
}

/**
 * The key a vamp is played in: where every chord stands on one root, that root is home to the player,
 * whatever key the chord might lead to (common practice). Null where there is more than one root, or none.
 */
export function vampKey(changes: Changes): Key | null {
  const stretches = stretchesOf(changes);
  const first = stretches[0];
  if (first === undefined || stretches.some(({ root }) => root !== first.root)) return null;
  return { tonic: plainName(first.chord.root), mode: hasDegree(first.chord, 'b3') ? 'minor' : 'major' };
}

/** How many of the form's two ends rest on the tonic of a key. */
function restingEnds(
  heard: readonly (readonly Hearing[])[],
  stretches: readonly Stretch[],
  key: number,
): number {
  return [0, heard.length - 1].filter(
    (end) => heard[end]![key]!.role === 'tonic' && stretches[end]!.root === KEYS[key]!.tonic,
  ).length;
}

const indexOf = (key: Key): number => pitchClass(key.tonic) + (key.mode === 'minor' ? 12 : 0);

/** The keys of the path by name; each stay in a key is named by the chords heard in it. */
function nameKeys(stretches: readonly Stretch[], keys: readonly number[], home: Key): readonly Key[] {
  const names: Key[] = [];
  for (let from = 0; from < keys.length;) {
    let to = from + 1;
    while (keys[to] === keys[from]) to++;
    const state = KEYS[keys[from]!]!;
    const isHome = keys[from] === indexOf(home);
    const name = isHome ? home : { tonic: tonicName(stretches.slice(from, to), state), mode: state.mode };
    while (names.length < to) names.push(name);
    from = to;
  }
  return names;
}

/** The tonic as the chords spell it: by one on the tonic itself, else from one a fifth or a second above it. */
function tonicName(stretches: readonly Stretch[], { tonic }: KeyState): NoteName {
  for (const [letters, semitones] of [
    [0, 0],
    [4, 7],
    [1, 2],
  ] as const) {
    const found = stretches.find(({ root }) => root === mod(tonic + semitones, 12));
    if (found)
      return plainName(transposeName(found.chord.root, { letters: -letters, semitones: -semitones }));
  }
  return commonName(tonic);
}
