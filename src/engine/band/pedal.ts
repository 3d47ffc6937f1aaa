import { homeKey, pitchClass, transposeName, type NoteName } from '../harmony/index.ts';
import type { Palette } from './palette.ts';
import type { BarGrid } from './pulses.ts';
import { marksOf } from './style.ts';
import type { RoundPlan } from './types.ts';

/** The bars at either end of a form without marks that count as its first and last section. Our choice: a phrase. */
const UNMARKED = 4;

/** The note the bass holds in each bar of a round; null where it moves with the chords. */
export function pedalsOf(plan: RoundPlan, grid: readonly BarGrid[]): readonly (NoteName | null)[] {
  const { pedal } = plan.settings;
  if (pedal === undefined) return grid.map(() => null);
  const { tonic } = homeKey(plan.changes);
  const note = pedal.on === 'root' ? tonic : transposeName(tonic, { letters: 4, semitones: 7 });
  const holds = holdsIn(plan, grid);
  return grid.map((bar) => (holds(bar) ? note : null));
}

function holdsIn({ settings, round }: RoundPlan, grid: readonly BarGrid[]): (bar: BarGrid) => boolean {
  const { marks, first, last } = marksOf(grid);
  switch (settings.pedal!.where) {
    case 'throughout':
      return () => true;
    case 'every-other-round':
      return () => round % 2 === 0;
    case 'first-section':
      return ({ index }) => (first === null ? index < UNMARKED : (marks[index] ?? first) === first);
    case 'last-section': {
      const begins = marks.findLastIndex((_, index) => grid[index]!.bar.mark !== null);
      return ({ index }) => (last === null ? index >= grid.length - UNMARKED : index >= begins);
    }
  }
}

/**
 * A palette whose ground is a pedal note. Under a dominant whose own fifth or ninth is altered the pedal
 * gives way where it would be the natural one: that would undo the colour.
 */
export function onPedal(palette: Palette, note: NoteName | null): Palette {
  if (note === null || palette.chord.bass !== null) return palette;
  const pc = pitchClass(note);
  const above = (pc - palette.root + 12) % 12;
  if (!palette.chromatic && (above === 7 || above === 2) && !palette.scale.has(pc)) return palette;
  return { ...palette, ground: pc, pedal: note };
}
