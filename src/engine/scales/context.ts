import {
  hasDegree,
  pitchClass,
  resolution,
  type Chord,
  type Degree,
  type FunctionKind,
  type FunctionReading,
  type Key,
} from '../harmony/index.ts';
import { COLOURS, GOING, type Going, type Shift } from './palette.ts';

/** What stands around a chord when scales are chosen for it. */
export interface ScaleContext {
  /** The kind of treatment laid over the chord, e.g. "altered"; null for none. */
  readonly treatment: string | null;
  /** The chord that follows; null at the very end. */
  readonly next: Chord | null;
  /** The chord before; it tells a dominant that comes out of minor. */
  readonly previous?: Chord | null;
  /** The local key; without it the scales are chosen from the chord and its neighbours alone. */
  readonly key?: Key | null;
  /** How the chord is heard in that key. */
  readonly reading?: FunctionReading | null;
}

/** What moves scales up or down where this chord stands; the symbol's own colours come before its place. */
export function shiftsFor(chord: Chord, context: ScaleContext): readonly Shift[] {
  const has = (...degrees: readonly Degree[]): boolean => degrees.some((degree) => hasDegree(chord, degree));
  if (chord.family === 'minor') return has('6') && !has('b7') ? [COLOURS.sixth] : [];
  if (chord.family !== 'dominant') return [];
  const shifts: Shift[] = [];
  const plainNinth = !has('b9', '#9');
  if (plainNinth && has('#5') && !has('b5')) shifts.push(COLOURS.raisedFifth);
  if (plainNinth && has('b5') && !has('#5')) shifts.push(COLOURS.flatFifth);
  if (has('#9')) shifts.push(COLOURS.raisedNinth);
  if (has('b9') && has('b13') && !has('#9', 'b5', '#11')) shifts.push(COLOURS.minorTensions);
  return [...shifts, GOING[goingOf(chord, context)]];
}

/** Where a reading hears a dominant go, whatever the next chord. */
const HEARD: ReadonlyMap<FunctionKind, Going> = new Map([
  ['blues-dominant', 'at-rest'],
  ['backdoor', 'back-door'],
  ['tritone-substitute', 'substitute'],
]);

/** Where a dominant goes: as it is heard, as it was prepared, and else by the root of the next chord. */
function goingOf(chord: Chord, { previous, next, reading }: ScaleContext): Going {
  const heard = reading ? HEARD.get(reading.kind) : undefined;
  if (heard) return heard;
  if (previous?.family === 'half-diminished' && stepUp(chord, previous) === 7) return 'out-of-minor';
  if (!next) return 'at-rest';
  const way = resolution(chord, next);
  if (way === 'falling-semitone') return 'substitute';
  if (way === 'falling-fifth') {
    return next.family === 'minor' || next.family === 'half-diminished' ? 'to-minor' : 'to-major';
  }
  const step = stepUp(chord, next);
  if (step === 0) return 'at-rest';
  return step === 2 && next.family !== 'dominant' ? 'back-door' : 'elsewhere';
}

const stepUp = (from: Chord, to: Chord): number => (pitchClass(to.root) - pitchClass(from.root) + 12) % 12;
