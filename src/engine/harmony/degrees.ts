/**
 * A chord's degrees as a set of bits, so that unions, clashes and comparisons are single operations. Bit n
 * stands for the nth degree of ORDER, which is also the order degrees are listed in.
 */
import type { Degree } from './types.ts';

/** Every degree a chord symbol can ask for, from the root up. */
export const ORDER = [
  '1',
  '2',
  'b3',
  '3',
  '4',
  'b5',
  '5',
  '#5',
  'b6',
  '6',
  'bb7',
  'b7',
  '7',
  'b9',
  '9',
  '#9',
  '11',
  '#11',
  'b13',
  '13',
] as const satisfies readonly Degree[];

/** A degree a chord symbol can ask for. */
export type ChordDegree = (typeof ORDER)[number];

/** A set of degrees. */
export type DegreeSet = number;

/** The set of one degree; empty (0) when no chord symbol can ask for it. */
export const bitOf = (degree: Degree): DegreeSet => BITS.get(degree) ?? 0;

const BITS: ReadonlyMap<string, DegreeSet> = new Map(ORDER.map((degree, index) => [degree, 1 << index]));

/** The set of the degrees named. */
export const setOf = (...degrees: readonly Degree[]): DegreeSet =>
  degrees.reduce((set, degree) => set | bitOf(degree), 0);

/** The degrees of a set, from the root up. */
export function degreesOf(set: DegreeSet): Degree[] {
  const degrees: Degree[] = [];
  for (let rest = set; rest !== 0; rest &= rest - 1) degrees.push(ORDER[31 - Math.clz32(rest & -rest)]!);
  return degrees;
}
