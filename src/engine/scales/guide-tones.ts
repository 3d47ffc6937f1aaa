import {
  guideTones,
  pitchClass,
  plainName,
  spell,
  type Changes,
  type Chord,
  type Degree,
  type NoteName,
} from '../harmony/index.ts';

/** One note of a guide-tone line. */
export interface GuideTone {
  /** Index of the span it sounds over. */
  readonly span: number;
  readonly degree: Degree;
  readonly name: NoteName;
  readonly plain: NoteName;
  readonly pc: number;
  /** Semitones from the line's note before, -6 to 5; null at the beginning of a line. */
  readonly move: number | null;
}

export type GuideToneLine = readonly GuideTone[];

/**
 * The two guide-tone lines through the changes: one begins on the third of the first chord, the other on
 * its seventh, and at every change both go on to the nearest guide tones of the next chord, with the least
 * motion in all and downwards where that leaves a choice. A chord with one guide tone gives it to both.
 */
export function guideToneLines(changes: Changes): readonly [GuideToneLine, GuideToneLine] {
  const first: GuideTone[] = [];
  const second: GuideTone[] = [];
  for (const [span, { chord }] of changes.spans.entries()) {
    if (chord === null) continue;
    const [upper, lower] = pairOf(chord);
    const straight = [motion(first, upper), motion(second, lower)] as const;
    const crossed = [motion(first, lower), motion(second, upper)] as const;
    const cross = cost(crossed) < cost(straight);
    first.push(toneOf(span, cross ? lower : upper, (cross ? crossed : straight)[0]));
    second.push(toneOf(span, cross ? upper : lower, (cross ? crossed : straight)[1]));
  }
  return [first, second];
}

interface Tone {
  readonly degree: Degree;
  readonly name: NoteName;
  readonly pc: number;
}

/** A chord's two guide tones; of a chord that has one or none, that one or the root twice. */
function pairOf(chord: Chord): readonly [Tone, Tone] {
  const degrees = guideTones(chord);
  const one = degrees[0] ?? '1';
  const tone = (degree: Degree): Tone => {
    const name = spell(chord.root, degree);
    return { degree, name, pc: pitchClass(name) };
  };
  return [tone(one), tone(degrees[1] ?? one)];
}

function motion(line: GuideToneLine, { pc }: Tone): number | null {
  const last = line.at(-1);
  return last ? ((pc - last.pc + 18) % 12) - 6 : null;
}

/** Least motion first, then the lower way. */
const cost = (moves: readonly (number | null)[]): number =>
  moves.reduce<number>((sum, move) => sum + Math.abs(move ?? 0) + (move !== null && move > 0 ? 0.01 : 0), 0);

const toneOf = (span: number, { degree, name, pc }: Tone, move: number | null): GuideTone => ({
  span,
  degree,
  name,
  plain: plainName(name),
  pc,
  move,
});
