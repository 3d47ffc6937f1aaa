import { randomFor, type Random } from '../units/index.ts';
import { BASS_RANGE, INTENTIONS, PRICES, type Intention } from './data.ts';
import { cheapestLine } from './line.ts';
import { ownPrice, stepPrice, turnPrice } from './prices.ts';
import type { Slot } from './slots.ts';
import type { RoundPlan } from './types.ts';
import { isVamp } from './vamp.ts';

/** How far from the contour a note may lie; wide enough for every pitch class to have a place. */
const REACH = 8;

/**
 * The pitches of a bass line over `slots`, one each: the cheapest line under the rules below.
 * @param slots without ghosts and octave drops
 */
export function lineOver(slots: readonly Slot[], plan: RoundPlan): readonly number[] {
  const bars = new Map<number, BarPlan>();
  const barPlan = (bar: number) => {
    const known = bars.get(bar);
    if (known !== undefined) return known;
    const made = barPlanOf(bar, plan);
    bars.set(bar, made);
    return made;
  };
  const contour = slots.map((slot) => {
    const { start, length } = plan.changes.bars[slot.bar]!;
    const { from, to } = barPlan(slot.bar);
    return from + ((to - from) * (slot.nominal - start)) / Math.max(1, length);
  });
  const places: (readonly number[])[] = slots.map((slot, index) =>
    pitchesFor(slot, contour[index]!, index === 0 ? plan.carry.bass : null),
  );
  const whim = isVamp(plan.changes) ? PRICES.whimOnVamp : PRICES.whim;
  const whims = slots.map((slot) =>
    whimsOf(randomFor(plan.settings.seed, 'bass', plan.round, slot.bar, slot.nominal, 'whim'), whim),
  );
  const intentions = slots.map((slot) => barPlan(slot.bar).intention);
  const next = plan.next?.chord;
  const home = slots[slots.length - 1]?.target ?? null;
  // The next round's first note is no note of this line, but the line leads there.
  if (next && home !== null) places.push(pitchesOf([home.ground], BASS_RANGE.low, BASS_RANGE.high));

  const line = cheapestLine(places, plan.carry.bass, {
    own: (index, note) => {
      const slot = slots[index];
      if (slot === undefined) return 0;
      return ownPrice(slot, note, contour[index]!) + whims[index]![note - BASS_RANGE.low]!;
    },
    step: (index, before, note) => {
      const prior = slots[index - 1];
      const slot = slots[index];
      return stepPrice(prior, before, slot, note, intentions[index] ?? intentions[index - 1]!);
    },
    turn: (index, first, second, note) =>
      turnPrice(slots[index - 1]!, first, second, note, intentions[index] ?? intentions[index - 1]!),
  });
  return line.slice(0, slots.length);
}

interface BarPlan {
  readonly intention: Intention;
  /** Where the line wants to be at the beginning of the bar and of the next. */
  readonly from: number;
  readonly to: number;
}

function barPlanOf(bar: number, { changes, settings, round }: RoundPlan): BarPlan {
  const height = (inRound: number, index: number) =>
    33.5 + 15 * randomFor(settings.seed, 'bass', inRound, index, 'height').next();
  const isLast = bar + 1 >= changes.bars.length;
  const random = randomFor(settings.seed, 'bass', round, bar, 'intention');
  return {
    intention: random.pick(INTENTIONS, (each) => each.weight),
    from: height(round, bar),
    to: isLast ? height(round + 1, 0) : height(round, bar + 1),
  };
}

function whimsOf(random: Random, whim: number): Float64Array {
  return Float64Array.from({ length: BASS_RANGE.high - BASS_RANGE.low + 1 }, () => whim * random.next());
}

/** The pitches a slot may take within reach of the contour, and of the note that sounds. */
function pitchesFor(slot: Slot, contour: number, sounding: number | null): readonly number[] {
  const centres = [Math.round(contour), ...(sounding === null ? [] : [sounding])];
  const low = Math.max(BASS_RANGE.low, Math.min(...centres) - REACH);
  const high = Math.min(BASS_RANGE.high, Math.max(...centres) + REACH);
  return pitchesOf(classesFor(slot), low, high);
}

function pitchesOf(classes: readonly number[], low: number, high: number): readonly number[] {
  const pitches: number[] = [];
  for (let pitch = low; pitch <= high; pitch++) if (classes.includes(pitch % 12)) pitches.push(pitch);
  return pitches;
}

/** The pitch classes a slot may take. */
function classesFor({ purpose, palette, target, invertible, substitute }: Slot): readonly number[] {
  const { ground, root, third, fifth, tones, scale, chromatic } = palette;
  switch (purpose) {
    case 'ground':
      return invertible && third !== null ? [ground, third] : [ground];
    case 'pedal':
    case 'root':
      return [ground];
    case 'fifth':
      return [fifth ?? root];
    case 'next':
      return [chromatic || scale.has(target!.ground) ? target!.ground : ground];
    case 'renewal':
    case 'tone':
      return [...new Set([ground, ...tones.keys()])];
    case 'approach': {
      const goal = target!.ground;
      const above = (goal + 1) % 12;
      if (substitute && (chromatic || scale.has(above))) return [above];
      const near = [1, 11, 2, 10, 7].map((above) => (goal + above) % 12);
      return [...new Set([...near.filter((pc) => chromatic || scale.has(pc)), ...tones.keys()])];
    }
    default:
      return chromatic ? ALL : [...scale.keys()];
  }
}

const ALL: readonly number[] = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11];
