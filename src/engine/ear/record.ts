import type { TreatmentKind } from '../treatment/index.ts';
import { randomFor } from '../units/index.ts';

/** How one colour was told by ear so far. */
export interface Told {
  /** How often it was played. */
  readonly asked: number;
  /** How often it was told for what it was. */
  readonly right: number;
  /** What it was taken for otherwise, and how often. */
  readonly taken: Readonly<Partial<Record<TreatmentKind, number>>>;
}

/** What was told by ear so far, colour by colour. */
export type EarRecord = Readonly<Partial<Record<TreatmentKind, Told>>>;

const NOTHING: Told = { asked: 0, right: 0, taken: {} };

/** The record with one more answer. */
export function told(record: EarRecord, kind: TreatmentKind, answer: TreatmentKind): EarRecord {
  const before = record[kind] ?? NOTHING;
  const right = kind === answer;
  const taken = right ? before.taken : { ...before.taken, [answer]: (before.taken[answer] ?? 0) + 1 };
  return { ...record, [kind]: { asked: before.asked + 1, right: before.right + (right ? 1 : 0), taken } };
}

/**
 * How likely it is that a colour is missed, 0 to 1: its misses over its questions, with one miss and one
 * hit added beforehand (the rule of succession), so that what was never asked counts as a half.
 */
export function missRate(record: EarRecord, kind: TreatmentKind): number {
  const { asked, right } = record[kind] ?? NOTHING;
  return (asked - right + 1) / (asked + 2);
}

/**
 * The colour to play next: what is missed comes more often, and so does what it is taken for, since the
 * ear learns the difference between two (our choice).
 * @param kinds those asked about, at least one
 * @param number counts the questions; with the seed it makes the choice
 * @throws RangeError when there is no kind to choose from
 */
export function nextKind(
  record: EarRecord,
  kinds: readonly TreatmentKind[],
  seed: number,
  number: number,
): TreatmentKind {
  const weight = (kind: TreatmentKind) => {
    const mistaken = kinds.reduce((sum, other) => sum + (record[other]?.taken[kind] ?? 0), 0);
    return missRate(record, kind) + Math.min(1, mistaken * 0.1);
  };
  return randomFor(seed, 'ear', number).pick(kinds, weight);
}
