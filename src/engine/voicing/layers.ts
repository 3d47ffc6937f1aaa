import type { Chord, Degree } from '../harmony/index.ts';
import { randomFor, type Ticks } from '../units/index.ts';
import { candidateSet, selectionOf, type CandidateSet } from './candidates.ts';
import { tensionsInContext } from './context.ts';
import { strays, WANDER } from './cost.ts';
import { answering } from './hearing.ts';
import type { Settings } from './options.ts';

/** One stroke of the comping hand. */
export interface Attack {
  readonly chord: Chord;
  /**
   * The tensions that may be added though the symbol does not name them, as the scale over the chord
   * offers them. Left out, the table's own are taken, with an eye to where a dominant resolves.
   */
  readonly tensions?: readonly Degree[];
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

/** The attacks as layers. `stays` and `answers` of the first speak of the last in a loop, else of `from`. */
export function layersOf(attacks: readonly Attack[], settings: Settings): readonly Layer[] {
  const { style, range, loop, from, among } = settings;
  const sets = attacks.map(({ chord }, i) => {
    const tensions = tensionsInContext(attacks, i, loop);
    if (among !== null) return among(chord, tensions);
    return candidateSet(chord, { style, ...(range && { range }), ...(tensions && { tensions }) });
  });
  const stays = sets.map((set, i) => {
    if (i > 0) return set.key === sets[i - 1]!.key;
    return loop ? set.key === sets[sets.length - 1]!.key : selectionOf(from, set) >= 0;
  });
  const answers = answering(
    attacks.map(({ bar }) => bar),
    sets.map(({ toHear }) => toHear > 0),
    stays,
    loop,
  );
  const lasting = lastingFrom(attacks, stays);
  return attacks.map((attack, i) => ({
    set: sets[i]!,
    stays: stays[i]!,
    answers: answers[i]!,
    weight: attack.weight ?? 1,
    own: ownCosts(sets[i]!, attack.at ?? i, lasting[i]! ? (attack.bar ?? null) : null, settings),
  }));
}

/** For each attack whether its chord lasts: three bars or more, or as long as there is music. */
function lastingFrom(attacks: readonly Attack[], stays: readonly boolean[]): readonly boolean[] {
  const lasting: boolean[] = [];
  for (let first = 0, end; first < attacks.length; first = end) {
    end = first + 1;
    while (end < attacks.length && stays[end]!) end++;
    const bars = (attacks[end - 1]!.bar ?? 0) - (attacks[first]!.bar ?? 0) + 1;
    const lasts = bars > 2 || (end - first === attacks.length && end > 1);
    for (let i = first; i < end; i++) lasting.push(lasts);
  }
  return lasting;
}

/**
 * @param name names the draw of chance
 * @param bar the bar of an attack on a chord that lasts, else null
 */
function ownCosts(set: CandidateSet, name: number, bar: number | null, settings: Settings): Float64Array {
  const { weights, seed, round, variety } = settings;
  const random = seed === null ? null : randomFor(seed, 'voicing', round, name);
  const centre = settings.centre + (seed === null || bar === null ? 0 : wander(seed, round, bar));
  return Float64Array.from(
    set.list,
    ({ voicing, cost }) =>
      weights.register * strays(voicing.pitches, centre) +
      weights.colour * cost +
      (random === null ? 0 : variety * random.next()),
  );
}

/** Semitones from the centre's rest: a third to the whole of {@link WANDER}, two bars up, two bars down. */
function wander(seed: number, round: number, bar: number): number {
  const turn = bar >> 1;
  const far = WANDER * (1 / 3 + (2 / 3) * randomFor(seed, 'register', round, turn).next());
  return (turn + round) % 2 === 0 ? far : -far;
}
