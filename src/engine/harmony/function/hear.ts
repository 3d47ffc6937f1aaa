import { mod } from '../names.ts';
import type { Stretch } from './chords.ts';
import { BORROWED_TARGETS, COSTS, DEGREES_OF_KEY, TARGETS } from './data.ts';
import type { FunctionKind, HarmonicRole, Mode } from './types.ts';

/** A key by its pitch class. */
export interface KeyState {
  readonly tonic: number;
  readonly mode: Mode;
}

/** How a chord is heard in a key, and how far it strays from it. */
export interface Hearing {
  readonly cost: number;
  readonly role: HarmonicRole | null;
  readonly kind: FunctionKind;
  /** The pitch class a dominant or diminished chord points to; null for all other chords. */
  readonly target: number | null;
  readonly evaded: boolean;
}

/** The chords a hearing may look at: the form comes round to its beginning. */
export function neighbour(stretches: readonly Stretch[], index: number, by: number): Stretch | null {
  return stretches.length > 1 ? stretches[mod(index + by, stretches.length)]! : null;
}

/** The best hearing of the chord at `index` in a key. */
export function hear(stretches: readonly Stretch[], index: number, key: KeyState): Hearing {
  let best: Hearing = { cost: COSTS.chromatic, role: null, kind: 'chromatic', target: null, evaded: false };
  for (const listen of [onDegree, asApplied, asBackdoor, asRelatedSecond, asPassing, asSlide]) {
    const heard = listen(stretches, index, key);
    if (heard && heard.cost < best.cost) best = heard;
  }
  return best;
}

/**
 * The tonic of a blues: the root of a plain dominant that the form begins on and comes back to, beside
 * another on its fourth; or of the one chord of a vamp. Null where the form is none. Our choice.
 */
export function bluesTonic(stretches: readonly Stretch[]): number | null {
  const first = stretches[0];
  if (first?.kind !== 'dom' || first.mode === 'minor') return null;
  if (stretches.length === 1) return first.root;
  const count = (root: number): number =>
    stretches.filter((other) => other.kind === 'dom' && other.root === root).length;
  const comesBack = count(first.root) > 1 || stretches.length === 2;
  return comesBack && count(mod(first.root + 5, 12)) > 0 ? first.root : null;
}

type Listen = (stretches: readonly Stretch[], index: number, key: KeyState) => Hearing | null;

const above = (root: number, key: KeyState): number => mod(root - key.tonic, 12);
const fallsTo = (root: number, semitones: number): number => mod(root - semitones, 12);

/** Whether the chord a dominant points to comes: next, or after one chord between. */
function arrives(stretches: readonly Stretch[], index: number, target: number): 'next' | 'later' | 'never' {
  const { root } = stretches[index]!;
  let ahead = 1;
  while (ahead < stretches.length && neighbour(stretches, index, ahead)?.root === root) ahead++;
  const next = neighbour(stretches, index, ahead);
  if (next === null || next.root === target) return 'next';
  return neighbour(stretches, index, ahead + 1)?.root === target ? 'later' : 'never';
}

/** What it costs that a dominant's target is late or does not come. */
const COMING = { next: 0, later: COSTS.unresolved / 2, never: COSTS.unresolved } as const;

const onDegree: Listen = (stretches, index, key) => {
  const { root, kind, mode } = stretches[index]!;
  const degree = above(root, key);
  const fit = DEGREES_OF_KEY[key.mode].get(`${degree}${kind}`);
  if (!fit) return null;
  if (fit.kind === 'blues-dominant') {
    if (mode === 'minor') return null;
    const cost = key.tonic === bluesTonic(stretches) ? COSTS.blues : fit.cost;
    return { ...fit, cost, target: null, evaded: false };
  }
  if (fit.role !== 'dominant') return { ...fit, target: null, evaded: false };
  const coming = arrives(stretches, index, key.tonic);
  const wrong = mode !== null && mode !== key.mode ? COSTS.wrongMode : 0;
  const cadence = coming === 'next' && preparedBySecond(stretches, index, key) ? COSTS.cadence : 0;
  const cost = fit.cost + wrong + COMING[coming] + cadence;
  return { ...fit, cost, target: key.tonic, evaded: coming === 'never' };
};

/** True for a dominant that its own ii comes before. */
function preparedBySecond(stretches: readonly Stretch[], index: number, key: KeyState): boolean {
  const before = neighbour(stretches, index, -1);
  return (
    before !== null && above(before.root, key) === 2 && (before.kind === 'min' || before.kind === 'hdim')
  );
}

const isDominantOf = (stretch: Stretch | null, target: number): boolean =>
  stretch?.kind === 'dom' && fallsTo(stretch.root, 7) === target;

const isApplicable = ({ kind, chord }: Stretch): boolean =>
  kind === 'dom' || kind === 'sus' || kind === 'aug' || (kind === 'maj' && chord.degrees.length === 3);

/** Secondary dominants and tritone substitutes: dominants that point to a degree of the key. */
const asApplied: Listen = (stretches, index, key) => {
  const stretch = stretches[index]!;
  if (!isApplicable(stretch)) return null;
  const fifth = fallsTo(stretch.root, 7);
  const semitone = fallsTo(stretch.root, 1);
  const next = neighbour(stretches, index, 1);
  const isTarget = (pc: number): boolean => TARGETS[key.mode].includes(above(pc, key));
  const secondary = (evaded: boolean, late: number): Hearing | null => {
    const degree = above(fifth, key);
    const borrowed = !evaded && key.mode === 'major' && BORROWED_TARGETS.includes(degree);
    if (!isTarget(fifth) && !borrowed) return null;
    const plain = !next || DEGREES_OF_KEY[key.mode].get(`${degree}${next.kind}`)?.kind === 'diatonic';
    const reach = borrowed ? COSTS.remote : plain ? COSTS.secondary : COSTS.extended;
    const cost = reach + late + (stretch.kind === 'maj' ? COSTS.triad : 0);
    return { cost, role: 'dominant', kind: 'secondary-dominant', target: fifth, evaded };
  };
  const substitute = (evaded: boolean, late: number): Hearing | null =>
    stretch.kind === 'dom' && (semitone === key.tonic || isTarget(semitone))
      ? {
          cost: COSTS.substitute + late,
          role: 'dominant',
          kind: 'tritone-substitute',
          target: semitone,
          evaded,
        }
      : null;
  if (next?.root === semitone) return substitute(false, 0) ?? secondary(true, COSTS.unresolved);
  const coming = arrives(stretches, index, fifth);
  if (coming !== 'never') return secondary(false, COMING[coming]);
  if (arrives(stretches, index, semitone) === 'later' && isDominantOf(next, semitone)) {
    return substitute(false, COMING.later);
  }
  return secondary(true, COMING.never) ?? (semitone === key.tonic ? substitute(true, COMING.never) : null);
};

const asBackdoor: Listen = (stretches, index, key) => {
  const { root, kind } = stretches[index]!;
  if (kind !== 'dom' || key.mode !== 'major' || above(root, key) !== 10) return null;
  if (neighbour(stretches, index, 1)?.root === fallsTo(root, 7)) return null;
  const before = neighbour(stretches, index, -1);
  const prepared = before !== null && before.root === mod(root + 7, 12) && before.kind !== 'dom';
  const coming = arrives(stretches, index, key.tonic);
  if (coming === 'never' && !prepared) return null;
  const cost = COSTS.backdoor + (prepared ? 0 : COMING[coming]);
  return { cost, role: 'dominant', kind: 'backdoor', target: key.tonic, evaded: coming === 'never' };
};

const asRelatedSecond: Listen = (stretches, index, key) => {
  const { root, kind } = stretches[index]!;
  const next = neighbour(stretches, index, 1);
  if ((kind !== 'min' && kind !== 'hdim') || !next || next.root !== fallsTo(root, 7)) return null;
  const at = mod(index + 1, stretches.length);
  const dominant = asBackdoor(stretches, at, key) ?? asApplied(stretches, at, key);
  if (!dominant || (next.kind !== 'dom' && next.kind !== 'sus')) return null;
  const { target } = dominant;
  if (target === null || !(target === key.tonic || TARGETS[key.mode].includes(above(target, key))))
    return null;
  return { cost: COSTS.relatedSecond, role: 'subdominant', kind: 'related-second', target, evaded: false };
};

const asPassing: Listen = (stretches, index, key) => {
  const { root, kind } = stretches[index]!;
  const next = neighbour(stretches, index, 1);
  if (kind !== 'dim' || !next) return null;
  const step = mod(next.root - root, 12);
  const target = next.root;
  const inKey = target === key.tonic || TARGETS[key.mode].includes(above(target, key));
  if (!inKey || (step !== 1 && step !== 11 && step !== 0)) return null;
  const role = step === 1 ? 'dominant' : null;
  return {
    cost: COSTS.passing,
    role,
    kind: 'passing-diminished',
    target: step === 1 ? target : null,
    evaded: false,
  };
};

/** A chord that slides by semitone into the next of its kind. */
const asSlide: Listen = (stretches, index) => {
  const { root, kind } = stretches[index]!;
  const next = neighbour(stretches, index, 1);
  const step = next && mod(next.root - root, 12);
  if (!next || next.kind !== kind || (step !== 1 && step !== 11)) return null;
  return { cost: COSTS.chromatic / 2, role: null, kind: 'chromatic', target: null, evaded: false };
};
