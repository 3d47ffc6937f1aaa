import type { PlayedBar } from '../harmony/index.ts';
import { beats, ticks, velocity, type NoteEvent, type Part } from '../units/index.ts';
import { CLICK } from './click.ts';
import { gridOf } from './pulses.ts';
import type { Dropout, RoundPlan } from './types.ts';

/** Which parts fall silent. The click is the player's own matter. */
const SILENT: Readonly<Record<Dropout['who'], readonly Part[]>> = {
  comp: ['comp'],
  bass: ['bass'],
  'comp-and-bass': ['comp', 'bass'],
  all: ['comp', 'bass', 'drums', 'click'],
};

/** Whether part of the band is silent in a bar of the round, by its index. */
function isOut(plan: RoundPlan, { bars, every }: Dropout, bar: number): boolean {
  if (bars >= every) return false;
  const count = (plan.firstBar ?? plan.round * plan.changes.bars.length) + bar;
  return count % every >= every - bars;
}

/**
 * The notes of a round with part of the band silent in some of its bars. What rings into such a bar ends
 * at its bar line. Where nobody plays, a click falls on two and four, the pulses between the strong ones
 * (common practice); in a bar of three pulses, and of one, on all of them but the first, or on that one.
 * @param notes in order of onset, as are those of the answer
 */
export function dropOut(notes: readonly NoteEvent[], plan: RoundPlan, dropout: Dropout): NoteEvent[] {
  const { bars } = plan.changes;
  const out = bars.map((_, index) => isOut(plan, dropout, index));
  const silent = SILENT[dropout.who];
  const kept: NoteEvent[] = [];
  for (const note of notes) {
    if (!silent.includes(note.part)) {
      kept.push(note);
      continue;
    }
    const here = bars.findLastIndex(({ start }) => start <= note.at);
    if (here < 0 || out[here] === true) continue;
    const next = out.findIndex((silence, index) => index > here && silence);
    kept.push(next < 0 ? note : endedBy(note, bars[next]!));
  }
  if (dropout.who === 'all') kept.push(...clicks(plan, out));
  return kept.sort((a, b) => a.at - b.at);
}

function endedBy(note: NoteEvent, { start }: PlayedBar): NoteEvent {
  return note.at + note.length <= start ? note : { ...note, length: ticks(start - note.at) };
}

function clicks(plan: RoundPlan, out: readonly boolean[]): NoteEvent[] {
  return gridOf(plan.changes)
    .filter(({ index }) => out[index] === true)
    .flatMap(({ bar, pulses }) =>
      pulses
        .filter((_, i) => (pulses.length === 3 ? i > 0 : i % 2 === 1) || pulses.length === 1)
        .filter(({ at }) => at >= bar.start && at < bar.start + bar.length && at >= plan.from)
        .map(({ at }) => ({
          at,
          length: beats(0.1),
          pitch: CLICK,
          name: null,
          degree: null,
          velocity: velocity(84),
          part: 'click' as const,
          counts: true as const,
          why: 'click on the off-beats: the band leaves the bar to the player',
        })),
    );
}
