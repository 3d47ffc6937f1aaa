import type { Chord, Degree } from '../harmony/index.ts';
import { gripsFor, gripsOf, type Grip, type GripOptions } from './grips.ts';
import type { Attack } from './layers.ts';
import { leadVoicings } from './lead.ts';
import type { LeadOptions } from './options.ts';
import { COMFORTABLE, NECK_CENTRE, SHIFT, STRING_CHANGE } from './strings.ts';
import type { Voicing } from './types.ts';

export interface LeadGripOptions
  extends Pick<LeadOptions, 'loop' | 'seed' | 'round' | 'variety' | 'weights'>, GripOptions {
  /** The grip that sounds, to lead on from. */
  readonly from?: Grip | null;
}

/**
 * Grips for all attacks at once: the voicings are led as any, among those a hand can hold with ease;
 * then the hand finds the way over the neck that moves it least, exactly.
 * @returns one grip for each attack
 * @throws RangeError when a tuning has too few strings, or no grip for a chord
 */
export function leadGrips(attacks: readonly Attack[], options: LeadGripOptions): readonly Grip[] {
  const { from, tuning, lastFret, open, ...lead } = options;
  const neck: GripOptions = {
    ...(tuning && { tuning }),
    ...(lastFret !== undefined && { lastFret }),
    ...(open !== undefined && { open }),
  };
  const voicings = leadVoicings(attacks, {
    ...lead,
    style: 'drop-2',
    centre: NECK_CENTRE,
    from: from?.voicing ?? null,
    among: (chord, tensions) => handy(chord, neck, tensions),
  });
  return handsOver(
    voicings.map((voicing) => gripsOf(voicing, neck)),
    from ?? null,
  );
}

/** The voicings a chord has in comfortable grips, each once; in any grips where none is comfortable. */
function handy(chord: Chord, neck: GripOptions, tensions: readonly Degree[] | undefined): readonly Voicing[] {
  const all = gripsFor(chord, { ...neck, ...(tensions && { tensions }) });
  const easy = all.filter(({ effort }) => effort <= COMFORTABLE);
  const byKeys = new Map(
    (easy.length > 0 ? easy : all).map(({ voicing }) => [voicing.pitches.join(' '), voicing]),
  );
  return [...byKeys.values()];
}

/** One grip of each list, so that effort and travel over all of them are least (Viterbi). */
export function handsOver(lists: readonly (readonly Grip[])[], from: Grip | null): readonly Grip[] {
  interface Way {
    readonly grip: Grip;
    readonly cost: number;
    readonly back: Way | null;
  }
  let ways: readonly Way[] = from === null ? [] : [{ grip: from, cost: 0, back: null }];
  for (const grips of lists) {
    ways = grips.map((grip) => {
      const reached = ways.map((back): Way => ({ grip, cost: back.cost + travel(back.grip, grip), back }));
      const best = cheapest(reached) ?? { grip, cost: 0, back: null };
      return { ...best, cost: best.cost + grip.effort };
    });
  }
  const path: Grip[] = [];
  for (let way = cheapest(ways); way !== null && path.length < lists.length; way = way.back)
    path.unshift(way.grip);
  return path;
}

const cheapest = <T extends { readonly cost: number }>(ways: readonly T[]): T | null =>
  ways.reduce<T | null>((best, way) => (best === null || way.cost < best.cost ? way : best), null);

/** How far the hand goes: frets along the neck, and the strings it leaves or takes up. */
export function travel(from: Grip, to: Grip): number {
  const strings = new Set(from.notes.map(({ string }) => string));
  const taken = to.notes.filter(({ string }) => !strings.has(string)).length;
  return SHIFT * Math.abs(from.position - to.position) + STRING_CHANGE * taken;
}
