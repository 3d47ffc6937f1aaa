import { fail, ok, type Result } from '../../units/index.ts';
import { makeChord } from '../symbol/make.ts';
import type { Chord, Degree, NoteName } from '../types.ts';
import { KINDS } from './data.ts';

/** A `degree` element: what happens to which degree, and by how many semitones. */
export interface HarmonyDegree {
  readonly type: 'add' | 'alter' | 'subtract';
  /** 1 to 13. */
  readonly value: number;
  readonly alter: number;
}

/** A `harmony` element of MusicXML, as far as it names a chord. */
export interface Harmony {
  readonly root: NoteName;
  /** One of the standard's kinds, e.g. "dominant-ninth". */
  readonly kind: string;
  readonly degrees: readonly HarmonyDegree[];
  readonly bass: NoteName | null;
}

/**
 * The chord a `harmony` element stands for.
 * @returns the reason where its kind is none of the standard's chords or its degrees make no chord symbol
 */
export function readHarmony({ root, kind, degrees, bass }: Harmony): Result<Chord, string> {
  const base = KINDS.get(kind);
  if (!base) return fail(`"${kind}" is not a kind of chord MusicXML knows the notes of`);
  let found: readonly string[] = base;
  for (const { type, value, alter } of degrees) {
    const own = found.find((degree) => numberOf(degree) === value);
    if (type === 'add') found = [...found, nameOf(added(value, found), addedAlter(value, alter))];
    else if (own === undefined) return fail(`a ${kind} chord has no ${value} to ${type}`);
    else if (type === 'subtract') found = found.filter((degree) => degree !== own);
    else found = found.map((degree) => (degree === own ? nameOf(value, alterOf(own) + alter) : degree));
  }
  try {
    return ok(makeChord(root, found as readonly Degree[], bass));
  } catch (error) {
    if (error instanceof RangeError) return fail(error.message);
    throw error;
  }
}

/** What a degree element costs: to add is plainer to read than to alter, and that than to take away. Our choice. */
const COST: Readonly<Record<HarmonyDegree['type'], number>> = { add: 1, alter: 1.1, subtract: 1.2 };

/** The `harmony` element of a chord: the kind that needs the fewest and plainest degrees besides. */
export function writeHarmony({ root, bass, degrees }: Chord): Harmony {
  const ways = [...KINDS].map(([kind, base]) => {
    const needed = difference(base, degrees);
    return { kind, needed, cost: needed.reduce((sum, { type }) => sum + COST[type], 0) };
  });
  const { kind, needed } = ways.reduce((best, way) => (way.cost < best.cost ? way : best));
  return { root, kind, degrees: needed, bass };
}

/** The degree elements that turn one list of degrees into another. */
function difference(from: readonly Degree[], to: readonly Degree[]): readonly HarmonyDegree[] {
  const gone = from.filter((degree) => !to.includes(degree));
  const come = to.filter((degree) => !from.includes(degree));
  const elements: HarmonyDegree[] = [];
  for (const degree of come) {
    const value = numberOf(degree);
    const at = gone.findIndex((other) => numberOf(other) === value);
    const [replaced] = at >= 0 ? gone.splice(at, 1) : [];
    const alter = replaced ? alterOf(degree) - alterOf(replaced) : alterOf(degree) + (value === 7 ? 1 : 0);
    elements.push({ type: replaced ? 'alter' : 'add', value, alter });
  }
  return [
    ...elements,
    ...gone.map((degree) => ({ type: 'subtract' as const, value: numberOf(degree), alter: 0 })),
  ];
}

const numberOf = (degree: string): number => Number(degree.replace(/[b#]/g, ''));
const alterOf = (degree: string): number => degree.split('#').length - degree.split('b').length;
const nameOf = (value: number, alter: number): string =>
  (alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter)) + value;

/** An added degree is counted from a dominant chord, whose seventh is minor. */
const addedAlter = (value: number, alter: number): number => (value === 7 ? alter - 1 : alter);

/** An added second or fourth lies an octave up as 9 or 11, unless the chord is suspended on the other. */
function added(value: number, found: readonly string[]): number {
  const isSuspended = found.includes('2') || found.includes('4');
  return (value === 2 || value === 4) && !isSuspended ? value + 7 : value;
}
