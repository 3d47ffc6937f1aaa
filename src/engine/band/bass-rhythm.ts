import type { Span } from '../harmony/index.ts';
import type { Ticks } from '../units/index.ts';
import type { Cell } from './feel.ts';
import { isClear, kicksOf, type Kick } from './hits.ts';
import type { Hit } from './notation.ts';
import type { BarGrid } from './pulses.ts';
import {
  apart,
  cellsFor,
  figureRandom,
  pickCell,
  placeInPhrase,
  startsOf,
  strokesOf,
  tilesOf,
  type Stroke,
} from './rhythm.ts';
import type { Style } from './style.ts';
import type { RoundPlan } from './types.ts';

/** A place where the bass strikes, and the span it strikes under. */
export interface BassStroke {
  readonly stroke: Stroke;
  readonly span: number;
  /** The stroke begins its span. */
  readonly begins: boolean;
}

/** What the feel gives the bass to play in a bar, whatever the chords. */
export function bassFigure(plan: RoundPlan, bar: BarGrid, { feelIn, offbeat }: Style): readonly Stroke[] {
  const { cells, hold } = feelIn(bar, plan.round).bass;
  const random = figureRandom(plan, bar, 'bass', hold);
  const place = placeInPhrase(bar, plan.changes.bars.length, plan.round);
  const chosen = tilesOf(bar, cells).flatMap((tile) => {
    const cell = pickCell(random, cellsFor(tile, cells, plan.settings, place));
    return cell === null ? [] : [{ tile, cell }];
  });
  return strokesOf(bar, chosen, offbeat);
}

/**
 * The feel's strokes, and one at every change that has none; a stroke hard upon a change off the beat falls
 * away. With a written hit the bass locks in: it has the root there, and a long push is tied over the beat.
 */
export function bassRhythm(plan: RoundPlan, style: Style): readonly BassStroke[] {
  const { grid, offbeat } = style;
  const { changes } = plan;
  const hits = kicksOf(plan, style);
  const kicks = hits.list.filter(({ by }) => by === 'band');
  const locked = new Map(kicks.map((kick) => [strokeOf(kick), kick]));
  const strokes = grid.flatMap((bar) =>
    hits.bandStops.has(bar.index)
      ? []
      : bassFigure(plan, bar, style).filter((stroke) => isClear(stroke.nominal, kicks, BEFORE)),
  );
  const sounding = startsOf(changes.spans, grid, offbeat);
  const starts = new Map(changes.spans.map((span, index) => [sounding[index] as number, span.start]));
  const begins = (stroke: Stroke) => starts.get(stroke.at) === stroke.nominal;
  const isGiven = ({ start, bar }: Span, index: number) =>
    hits.bandStops.has(bar) ||
    kicks.some((kick) => kick.nominal === start || (kick.span === index && tiesInto(kick, start)));
  const taken = new Set(strokes.filter(begins).map((stroke) => stroke.nominal as number));
  const added = changes.spans.flatMap((span, index) =>
    span.chord === null || taken.has(span.start) || isGiven(span, index)
      ? []
      : [onTheChange(span, sounding[index]!, grid)],
  );
  const offBeat = added.filter(({ bar, nominal }) =>
    grid[bar]!.pulses.every((pulse) => pulse.at !== nominal),
  );
  const tooClose = (stroke: Stroke) =>
    offBeat.some(({ nominal }) => {
      const pulse = grid[stroke.bar]!.pulses[stroke.pulse]!;
      return Math.abs(nominal - stroke.nominal) < CLOSE * pulse.length;
    });
  let span = 0;
  const all = [
    ...strokes.filter((stroke) => begins(stroke) || !tooClose(stroke)),
    ...added,
    ...locked.keys(),
  ];
  return apart(all, (stroke) => begins(stroke) || locked.has(stroke)).map((stroke) => {
    const kick = locked.get(stroke);
    if (kick?.pushed === true) return { stroke, span: kick.span, begins: true };
    while (span + 1 < sounding.length && sounding[span + 1]! <= stroke.at) span++;
    return { stroke, span, begins: changes.spans[span]!.start === stroke.nominal };
  });
}

/** How near a change off the beat, in pulses, a stroke of the feel's falls away. Our choice: no bass player plays both. */
const CLOSE = 0.36;

/** How far before a hit the walking line goes on, in beats: nearer it would stumble into it. Our choice. */
const BEFORE = 0.45;

/** Whether a long push rings on over the beat at `start`. */
const tiesInto = ({ pushed, length, nominal, unit }: Kick, start: Ticks): boolean =>
  pushed && length === 'long' && start > nominal && start - nominal < unit;

function strokeOf({ at, nominal, bar, pulse, accent, length }: Kick): Stroke {
  const weight = accent === 'strong' ? 'accent' : 'plain';
  const hit: Hit = { pulse: 0, place: '', length: length === 'long' ? 'held' : 'short', weight, what: 'R' };
  return { at, nominal, bar, pulse, hit, cell: { ...ON_THE_CHANGE, name: 'written hit' } };
}

const ON_THE_CHANGE: Cell = {
  name: 'on the change',
  hits: [],
  weight: 1,
  tempo: [0, 1000],
  intensity: [0, 1],
  place: null,
};

function onTheChange(span: Span, at: Ticks, grid: readonly BarGrid[]): Stroke {
  const { pulses } = grid[span.bar]!;
  const pulse = pulses.findIndex((each) => span.start >= each.at && span.start < each.at + each.length);
  const hit: Hit = { pulse: 0, place: '', length: 'plain', weight: 'plain', what: null };
  return {
    at,
    nominal: span.start,
    bar: span.bar,
    pulse: Math.max(0, pulse),
    hit,
    cell: ON_THE_CHANGE,
  };
}
