import { spell, type Chord, type Degree } from '../../../src/engine/harmony/index.ts';
import { midi } from '../../../src/engine/units/index.ts';
import { selections, totalMotion, type Attack, type Voicing } from '../../../src/engine/voicing/index.ts';
import { placings } from '../../../src/engine/voicing/placings.ts';
import { chord } from '../../helpers/voicing.ts';

/** Common forms of our own making, one chord symbol after the other. */
const FOURTHS = ['C', 'F', 'Bb', 'Eb', 'Ab', 'Db', 'F#', 'B', 'E', 'A', 'D', 'G'] as const;

/** ii–V–I with two bars of I through all keys by fourths: 48 chords. */
export const TWO_FIVE_ONE: readonly string[] = FOURTHS.flatMap((_, i) => {
  const root = (step: number) => FOURTHS[(i + step + 12) % 12]!;
  return [`${root(-2)}m7`, `${root(-1)}7`, `${root(0)}maj7`, `${root(0)}maj7`];
});

/** Twelve bars with a turnaround, 16 chords. */
export const BLUES: readonly string[] = 'F7 Bb7 F7 F7 Bb7 Bdim7 F7 D7alt Gm7 C7 F7 D7 Gm7 C7 F7 F7'.split(
  ' ',
);

const A = 'Bbmaj7 G7alt Cm7 F7alt Dm7 G7alt Cm7 F7alt Fm7 Bb7alt Ebmaj7 Ab7';
const BRIDGE = 'D7 D7 D7alt D7alt G7 G7 G7alt G7alt C7 C7 C7alt C7alt F7 F7 F7alt F7alt';

/** 32 bars with two chords a bar and altered dominants, 64 chords. */
export const AABA: readonly string[] = [
  `${A} Dm7 G7alt Cm7 F7alt`,
  `${A} Cm7 F7alt Bb6 Bb6`,
  BRIDGE,
  `${A} Cm7 F7alt Bb6 Bb6`,
].flatMap((part) => part.split(' '));

/** A chorus as it is comped: two or three attacks a bar over two chords a bar. */
export const attacksOn = (symbols: readonly string[], attacksABar: readonly number[]): readonly Attack[] =>
  Array.from({ length: symbols.length / 2 }, (_, bar) => bar).flatMap((bar) => {
    const [first, second] = [chord(symbols[2 * bar]!), chord(symbols[2 * bar + 1]!)];
    const attacks = attacksABar[bar % attacksABar.length]!;
    return Array.from({ length: attacks }, (_, i) => ({ chord: i < attacks - 1 ? first : second, bar }));
  });

/** Tensions as free as a scale book gives them: the measurements this is compared with took them so. */
const FREE: Readonly<Record<string, readonly Degree[]>> = {
  maj7: ['9', '13', '#11'],
  m7: ['9', '11', '13'],
  '7': ['9', '13', '#11'],
};

/** Four rootless notes with third and seventh, MIDI 48 to 72, span at most 16, in any spacing. */
export function anySpacing(symbol: Chord, free: readonly string[] = []): readonly Voicing[] {
  const kind = symbol.text.replace(/^[A-G][b#]?/, '');
  const tensions = free.includes(kind) ? FREE[kind] : undefined;
  return selections(symbol, false, tensions)
    .flatMap(({ degrees }) => placings(symbol, degrees, 48, 72, 16))
    .map(({ keys, degrees }) => ({
      pitches: keys.map(midi),
      names: degrees.map((degree) => spell(symbol.root, degree)),
      degrees,
    }));
}

/** The nearest voicing from each chord to the next. */
export function greedy(
  symbols: readonly Chord[],
  among: (symbol: Chord) => readonly Voicing[],
): readonly Voicing[] {
  const path: Voicing[] = [];
  for (const symbol of symbols) {
    const last = path.at(-1);
    const motion = (to: Voicing) => (last ? totalMotion(last.pitches, to.pitches) : 0);
    path.push(among(symbol).reduce((best, voicing) => (motion(voicing) < motion(best) ? voicing : best)));
  }
  return path;
}

/** Semitones all voices move along a path. */
export const motionAlong = (path: readonly Voicing[]): number =>
  path.slice(1).reduce((sum, voicing, i) => sum + totalMotion(path[i]!.pitches, voicing.pitches), 0);
