import type { Feel } from './feel.ts';
import { feelCalled } from './feels.ts';
import { gridOf, type BarGrid } from './pulses.ts';
import { offbeatAt } from './swing.ts';
import { feltTempo } from './felt.ts';
import type { BandSettings, RoundPlan } from './types.ts';

/** The feel a bar is played in; bars by their index in the round. */
export type FeelIn = (bar: BarGrid, round: number) => Feel;

/** How a round is played: its bars with their felt beats, where off-beats fall, and each bar's feel. */
export interface Style {
  readonly grid: readonly BarGrid[];
  readonly offbeat: number;
  readonly feelIn: FeelIn;
}

/** The style of a round. */
export function styleOf({ changes, settings }: RoundPlan): Style {
  const feel = feelCalled(settings.feel);
  const grid = gridOf(changes, settings.time);
  return {
    grid,
    offbeat: offbeatAt(feel.swing, settings.swingRatio, feltTempo(settings)),
    feelIn: feelIn(settings, feel, grid),
  };
}

/** In two where the player wants it and the feel knows how, else as set. */
function feelIn({ two }: BandSettings, feel: Feel, grid: readonly BarGrid[]): FeelIn {
  if (two === undefined || feel.inTwo === null) return () => feel;
  const calm = feelCalled(feel.inTwo);
  if (two === 'first-round') return (_, round) => (round === 0 ? calm : feel);
  if (two === 'every-other-round') return (_, round) => (round % 2 === 0 ? calm : feel);
  const { marks, first } = marksOf(grid);
  return ({ index }) => ((marks[index] ?? first) === first ? calm : feel);
}

/** The rehearsal mark every bar stands under, the first and the last of them; null where nothing is marked. */
export function marksOf(grid: readonly BarGrid[]) {
  const marks: (string | null)[] = [];
  for (const { bar } of grid) marks.push(bar.mark ?? marks.at(-1) ?? null);
  return { marks, first: marks.find((mark) => mark !== null) ?? null, last: marks.at(-1) ?? null };
}
