import type { Changes, PlayedBar } from '../harmony/index.ts';
import type { BandSettings } from './types.ts';
import { PPQ, ticks, type Metre, type Ticks } from '../units/index.ts';

/** A felt beat of a bar, on the beat line of the round. */
export interface Pulse {
  readonly at: Ticks;
  readonly length: Ticks;
  /** True when the pulse falls into three (6/8, the long beat of 7/8), else it falls into two. */
  readonly ternary: boolean;
}

/** A bar with its felt beats. */
export interface BarGrid {
  readonly index: number;
  readonly bar: PlayedBar;
  /** All pulses of the written bar, also those a snippet leaves out before or after. */
  readonly pulses: readonly Pulse[];
  /** How the pulses group, e.g. [3, 2] for 5/4; their sum is the number of pulses. */
  readonly groups: readonly number[];
}

/**
 * The bars of a round with their pulses, felt in half or double time where asked for. Every metre is built from groups of two, three and four
 * pulses, so that what the band knows about those it can play in any metre.
 */
export function gridOf(changes: Changes, time?: BandSettings['time']): readonly BarGrid[] {
  return changes.bars.map((bar, index) => {
    const { lengths, groups } = feltPulses(bar.metre, time);
    let at: number = bar.start - bar.skipped;
    const pulses = lengths.map((length) => {
      const pulse = { at: ticks(at), length: ticks(length), ternary: isTernary(bar.metre, length) };
      at += length;
      return pulse;
    });
    return { index, bar, pulses, groups };
  });
}

/**
 * In double time every pulse is two; in half time two are one, in bars that can be halved. Pulses that
 * fall into three stay as they are: half of them is no beat.
 */
function feltPulses(metre: Metre, time: BandSettings['time']) {
  const plain = pulsesOf(metre);
  const { lengths, groups } = plain;
  if (time === undefined || lengths.some((length) => isTernary(metre, length))) return plain;
  if (time === 'double') {
    return {
      lengths: lengths.flatMap((length) => [length / 2, length / 2]),
      groups: groups.flatMap((size) => (size === 2 ? [4] : [size, size])),
    };
  }
  const [first] = lengths;
  if (lengths.length % 2 === 1 || lengths.some((length) => length !== first)) return plain;
  const half = lengths.slice(lengths.length / 2).map((length) => 2 * length);
  return { lengths: half, groups: groupsOf(half.length) };
}

function isTernary(metre: Metre, length: number): boolean {
  const unit = (4 * PPQ) / metre.unit;
  return metre.unit >= 8 && length === 3 * unit;
}

/**
 * Lengths and grouping of the felt beats. Quarters in metres over 1, 2 and 4; threes in compound metres;
 * elsewhere quarters with the odd rest at the end (7/8 is 2 + 2 + 3). Fives group 3 + 2, sevens 4 + 3.
 * Common practice; the order of the groups is our choice, because the bar then begins broad.
 */
export function pulsesOf(metre: Metre): { lengths: readonly number[]; groups: readonly number[] } {
  const unit = (4 * PPQ) / metre.unit;
  if (metre.unit <= 4) {
    const count = (metre.count * 4) / metre.unit;
    const halves = metre.unit === 2 && metre.count % 2 === 1;
    return {
      lengths: new Array<number>(count).fill(PPQ),
      groups: halves ? new Array<number>(metre.count).fill(2) : groupsOf(count),
    };
  }
  const lengths = unitsOf(metre).map((units) => units * unit);
  return { lengths, groups: groupsOf(lengths.length) };
}

function unitsOf({ count, unit }: Metre): readonly number[] {
  if (count % 3 === 0) return new Array<number>(count / 3).fill(3);
  const quarter = unit / 4;
  const whole = new Array<number>(Math.floor(count / quarter)).fill(quarter);
  const rest = count % quarter;
  if (rest === 0) return whole;
  if (rest > 1 && unit === 16) return [...whole, rest];
  return whole.length === 0 ? [rest] : [...whole.slice(0, -1), ...(quarter === 2 ? [3] : [3, 2])];
}

function groupsOf(count: number): readonly number[] {
  if (count === 0) return [];
  if (count <= 4) return [count];
  if (count === 5) return [3, 2];
  if (count === 6) return [3, 3];
  return [4, ...groupsOf(count - 4)];
}

/** The places in a bar (indices of pulses) where a group begins, and the third of every four. */
export function strongPulses(groups: readonly number[]): ReadonlySet<number> {
  const strong = new Set<number>();
  let at = 0;
  for (const size of groups) {
    strong.add(at);
    if (size === 4) strong.add(at + 2);
    at += size;
  }
  return strong;
}
