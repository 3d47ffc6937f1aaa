import type { Chord } from '../harmony/index.ts';
import { randomFor, type Ticks } from '../units/index.ts';
import { candidateSet, type CandidateSet } from './candidates.ts';
import { leapsInParallel, leapsTooFar, skipsAtTheTop, staysAtTheTop, strays, type Weights } from './cost.ts';
import { STYLES } from './data.ts';
import { totalMotion } from './motion.ts';
import type { Voicing, VoicingStyle } from './types.ts';

/** One stroke of the comping hand. */
export interface Attack {
  readonly chord: Chord;
  /**
   * The bar it is struck in, counted up without gaps. Lets the search see to it that two bars of a
   * long altered chord sound all its altered tones even when little is played.
   */
  readonly bar?: number;
  /** When it is struck. Used as a name only: the draw of chance at a tick is the same wherever the plan begins. */
  readonly at?: Ticks;
  /** How much the attack stands out, 0 to 1; 1 when left out. At 0 it may repeat the one before at no cost. */
  readonly weight?: number;
}

/** One attack as the search sees it: the voicings it may take and what leads into them. */
export interface Layer {
  readonly set: CandidateSet;
  /** The attack before has the same chord. */
  readonly stays: boolean;
  /** The attack before and this one must sound all tones to be heard between the two of them. */
  readonly answers: boolean;
  readonly weight: number;
  /** What each voicing costs by itself: register, colour, chance. */
  readonly own: Float64Array;
}

export interface LayerOptions {
  readonly style: VoicingStyle;
  readonly from: Voicing | null;
  readonly loop: boolean;
  readonly weights: Weights;
  readonly range?: { readonly low: number; readonly high: number };
  readonly seed: number | null;
  readonly round: number;
  readonly variety: number;
}

/** The attacks as layers. `stays` and `answers` of the first speak of the last in a loop, else of `from`. */
export function layersOf(attacks: readonly Attack[], options: LayerOptions): readonly Layer[] {
  const sets = attacks.map(({ chord }) =>
    candidateSet(chord, { style: options.style, ...(options.range && { range: options.range }) }),
  );
  const stays = sets.map((set, i) => {
    if (i > 0) return set.key === sets[i - 1]!.key;
    return options.loop ? set.key === sets[sets.length - 1]!.key : selectionOf(options.from, set) >= 0;
  });
  const answers = answering(attacks, sets, stays, options.loop);
  return attacks.map((attack, i) => ({
    set: sets[i]!,
    stays: stays[i]!,
    answers: answers[i]!,
    weight: attack.weight ?? 1,
    own: ownCosts(sets[i]!, attack.at ?? i, options),
  }));
}

/** Which four-note choice of a set a voicing is, or -1: it must name the same degrees over the same root. */
export function selectionOf(voicing: Voicing | null, set: CandidateSet): number {
  if (voicing === null) return -1;
  const named = (other: Voicing) =>
    other.names
      .map((name, i) => `${name}/${other.degrees[i]}`)
      .sort()
      .join(' ');
  const wanted = named(voicing);
  return set.list.find((candidate) => named(candidate.voicing) === wanted)?.selection ?? -1;
}

function ownCosts(set: CandidateSet, name: number, options: LayerOptions): Float64Array {
  const { weights, seed, round, variety } = options;
  const centre = STYLES[options.style].centre;
  const random = seed === null ? null : randomFor(seed, 'voicing', round, name);
  return Float64Array.from(
    set.list,
    ({ voicing, cost }) =>
      weights.register * strays(voicing.pitches, centre) +
      weights.colour * cost +
      (random === null ? 0 : variety * random.next()),
  );
}

/**
 * For each attack, whether it and the one before are the only two of their chord within some two
 * neighbouring bars that the chord fills. Three in a row sound every tone anyway; two must be told.
 */
function answering(
  attacks: readonly Attack[],
  sets: readonly CandidateSet[],
  stays: readonly boolean[],
  loop: boolean,
): boolean[] {
  const answers = attacks.map(() => false);
  if (!loop && stays[0] && sets[0]!.toHear > 0) answers[0] = true;
  const count = attacks.length;
  const bars = (attacks.at(-1)?.bar ?? 0) + 1;
  const begin = loop ? stays.indexOf(false) : 0;
  const turns = begin < 0 ? 2 * count : count;
  // Bars along the run, counted on through the loop's seam.
  const at = (step: number) => attacks[step % count]!.bar! + bars * Math.floor(step / count);
  for (let first = Math.max(0, begin), end; first < Math.max(0, begin) + turns; first = end) {
    end = first + 1;
    while (end < Math.max(0, begin) + turns && stays[end % count]!) end++;
    if (sets[first % count]!.toHear === 0 || attacks[first % count]!.bar === undefined) continue;
    const last = Math.max(at(end - 1), (loop || end < count ? at(end) : bars) - 1);
    for (let step = first + 1; step < end; step++) {
      for (let bar = Math.max(at(first), at(step) - 1); bar <= at(step - 1) && bar + 1 <= last; bar++) {
        const alone = (step - 2 < first || at(step - 2) < bar) && (step + 1 >= end || at(step + 1) > bar + 1);
        if (alone) answers[step % count] = true;
      }
    }
  }
  return answers;
}

/** What the way from one voicing to the next costs before memory comes in. */
export function stepCost(from: Voicing, to: Voicing, stays: boolean, weights: Weights): number {
  const [a, b] = [from.pitches, to.pitches];
  return (
    weights.motion * (stays ? weights.inside : 1) * totalMotion(a, b) +
    weights.leap * leapsTooFar(a, b) +
    weights.topSkip * skipsAtTheTop(a, b) +
    (leapsInParallel(a, b) ? weights.parallel : 0)
  );
}

/** What striking the same again costs: the top note, the four degrees, the four notes. */
export function repeatCost(
  from: Voicing,
  to: Voicing,
  sameDegrees: boolean,
  weight: number,
  weights: Weights,
): number {
  const same = sameDegrees && totalMotion(from.pitches, to.pitches) === 0;
  return (
    weight *
    ((staysAtTheTop(from.pitches, to.pitches) ? weights.topStay : 0) +
      (sameDegrees ? weights.sameDegrees : 0) +
      (same ? weights.sameNotes : 0))
  );
}
