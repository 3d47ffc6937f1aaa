import { Pen, type Beats, type Stroke } from './pen.ts';
import { below, type Rung } from './rungs.ts';
import type { Desk } from './scale-drills.ts';

/**
 * How many running notes a target and what leads to it take together, by how many there are to the beat, so
 * that every target falls on a beat; with an enclosure in eighths on every second one, in quarters on the
 * first of the bar. Our choice.
 */
const GROUP = {
  approach: { 1: 2, 2: 2, 3: 3, 4: 2 },
  enclosure: { 1: 4, 2: 4, 3: 3, 4: 4 },
} as const;

/** What leads to a target. */
export type Lead = keyof typeof GROUP;

/** What leads to `target`: the semitone below it, for an enclosure the scale's next note above before that. */
export function leadTo(target: Rung, scale: readonly Rung[], lead: Lead): readonly Rung[] {
  const under = below(target);
  if (lead === 'approach') return [under];
  const over = scale.find(({ pitch }) => pitch > target.pitch);
  return over === undefined ? [under] : [over, under];
}

export const leadWhy = (leader: Rung, target: Rung): string =>
  leader.pitch < target.pitch
    ? `a semitone below the ${target.degree}`
    : `the scale note above the ${target.degree}`;

/**
 * Each chord tone of the ladder, from the lowest root up, down, and home, led to from outside. The targets
 * lie on beats, so that what leads to the first of them comes before its beat.
 * @param targets the chord tones in reach
 */
export function approaches(desk: Desk, targets: readonly Rung[], lead: Lead, perBeat: 1 | 2 | 3 | 4) {
  const { rungs, unit, beats, from } = desk;
  const home = targets.findIndex(({ role }) => role === 'root');
  if (home < 0 || targets.length < 2) return [];
  const up = targets.slice(home);
  const way = [...up, ...targets.slice(0, -1).toReversed(), ...targets.slice(1, home + 1)];
  const size = GROUP[lead][perBeat] * unit;
  let target = firstTarget(beats, from + leadTo(way[0]!, rungs, lead).length * unit, size);
  const pen = new Pen(from);
  for (const [i, tone] of way.entries()) {
    const leaders = leadTo(tone, rungs, lead);
    pen.at = target - leaders.length * unit;
    for (const [n, leader] of leaders.entries()) pen.play(leader, unit, leadWhy(leader, tone), n === 0);
    if (i === way.length - 1) {
      pen.comeHome(tone, beats, 'home to the root');
    } else {
      const next = leadTo(way[i + 1]!, rungs, lead).length;
      pen.play(tone, size - next * unit, `the ${tone.degree}, on the beat`);
      target += size;
    }
  }
  return pen.strokes as readonly Stroke[];
}

/** The first beat from `at` on that groups of this size fall on when they fill the bar. */
function firstTarget(beats: Beats, at: number, size: number): number {
  const beat = beats.beatFrom(at);
  const { start, end } = beats.barAt(beat);
  return (end - start) % size === 0 ? start + Math.ceil((beat - start) / size) * size : beat;
}
