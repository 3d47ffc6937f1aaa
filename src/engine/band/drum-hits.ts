import { randomFor, type Ticks } from '../units/index.ts';
import { STRUCK } from './data.ts';
import type { Beat } from './beat.ts';
import type { Fill } from './fills.ts';
import { kicksOf, type Kick } from './hits.ts';
import type { BarGrid, Pulse } from './pulses.ts';
import { cellsFor, pickCell, placeIn, type Stroke } from './rhythm.ts';
import type { Style } from './style.ts';
import type { RoundPlan } from './types.ts';

/** What the drums make of the hits that all play. */
export interface DrumHits {
  /** Bars in which nothing else is played. */
  readonly stops: ReadonlySet<number>;
  /** The hits of a bar with what leads up to them. */
  beatsIn(bar: number): readonly Beat[];
  /** Whether a stroke of the time or a comment stands beside the hits. */
  leave(beat: Beat): boolean;
  /** Whether there is a fill, and room for it. */
  leaveRoomFor(fill: Fill | null, bar: BarGrid): boolean;
}

/** Cymbals the time is kept on: they are not struck right beside a hit. */
const CYMBALS: ReadonlySet<number> = new Set([42, 46, 51, 53, 59]);
/** How far from a hit a cymbal stroke must lie, and how far before and after one a comment, in beats. Our choice. */
const BESIDE = 0.45;
const COMMENT = { before: 1.1, after: 0.7 } as const;
/** A hit sooner after another is not led up to: the first has set it up. In beats. Our choice. */
const GROUP = 1.6;

/** The hits that all play, struck and set up: the drummer shows where they come (common practice). */
export function drumHits(plan: RoundPlan, style: Style): DrumHits {
  const { list, coming, bandStops } = kicksOf(plan, style);
  const kicks = list.filter(({ by }) => by === 'band');
  const shown = [...kicks, ...coming.filter(({ by }) => by === 'band')];
  const pulses = style.grid.flatMap((bar) =>
    bar.pulses.map((pulse, index) => ({ ...pulse, bar: bar.index, index })),
  );
  const set = shown.flatMap((kick, index) => setUp(plan, style, pulses, kick, shown[index - 1]));
  const led = set.filter(({ stroke }) => !bandStops.has(stroke.bar));
  const beats = [...led, ...kicks.flatMap((kick) => struck(kick, plan, style))];
  return {
    stops: bandStops,
    beatsIn: (bar) => beats.filter(({ stroke }) => stroke.bar === bar),
    leave: ({ stroke: { nominal }, key, comment }) =>
      !beats.some((beat) => beat.key === key && beat.stroke.nominal === nominal) &&
      shown.every((kick) => {
        const away = (nominal - kick.nominal) / kick.unit;
        if (comment) return away < -COMMENT.before || away > COMMENT.after;
        return !CYMBALS.has(key) || away === 0 || Math.abs(away) >= BESIDE;
      }),
    leaveRoomFor: (fill, bar) => {
      if (fill === null) return false;
      const end = bar.bar.start + bar.bar.length;
      const until = (kick: Kick) => kick.nominal + kick.unit;
      return shown.every((kick) => until(kick) <= fill.begins || kick.nominal - kick.unit / 2 > end);
    },
  };
}

function struck(kick: Kick, plan: RoundPlan, style: Style): readonly Beat[] {
  const feel = style.feelIn(style.grid[kick.bar]!, plan.round);
  const { at, nominal, bar, pulse, length } = kick;
  return STRUCK[feel.kit][`${kick.accent} ${length}`].map(([key, level]) => ({
    stroke: strokeOf({ at, nominal }, bar, pulse, length === 'long' ? 'held' : 'short', 'written hit'),
    key: key ?? feel.drums.crash ?? RIDE,
    level,
    comment: false,
    why: 'written hit',
  }));
}
const RIDE = 51;

interface Place extends Pulse {
  readonly bar: number;
  readonly index: number;
}

/** What leads up to a hit, in the beats before it; nothing where another hit comes just before. */
function setUp(
  plan: RoundPlan,
  { grid, offbeat, feelIn }: Style,
  pulses: readonly Place[],
  kick: Kick,
  before: Kick | undefined,
): readonly Beat[] {
  const room = before === undefined ? Infinity : (kick.nominal - before.nominal) / kick.unit;
  // The last beat before the hit: the one it lies in, where it lies off the beat.
  const last = pulses.findLastIndex((pulse) => pulse.at < kick.nominal);
  const place = pulses[last];
  if (place === undefined || place.at + place.length < kick.nominal || room < GROUP) return [];
  const { settings, round } = plan;
  const random = randomFor(settings.seed, 'drums', round, place.bar, kick.nominal, 'set-up');
  const table = feelIn(grid[place.bar]!, round).drums.setUps;
  const sizes = [...table.keys()].filter((size) => size < room && last - size + 1 >= 0);
  const cells = sizes.flatMap((size) =>
    cellsFor({ first: 0, size }, table, settings, 'first').map((cell) => ({ size, cell })),
  );
  const chosen = pickCell(
    random,
    cells.map(({ cell }) => cell),
  );
  const size = cells.find(({ cell }) => cell === chosen)?.size ?? 0;
  return (chosen?.hits ?? []).flatMap((hit): Beat[] => {
    const pulse = pulses[last - size + 1 + hit.pulse]!;
    const time = placeIn(pulse, hit, offbeat);
    if (time.nominal >= kick.nominal - pulse.length / 8) return [];
    return [
      {
        stroke: { ...strokeOf(time, pulse.bar, pulse.index, hit.length, chosen!.name), hit },
        key: Number(hit.what ?? 38),
        level: kick.accent === 'strong' ? 58 : 46,
        comment: false,
        why: `sets up the hit: ${chosen!.name}`,
      },
    ];
  });
}

function strokeOf(
  time: { readonly at: Ticks; readonly nominal: Ticks },
  bar: number,
  pulse: number,
  length: Stroke['hit']['length'],
  name: string,
): Stroke {
  const hit = { pulse: 0, place: '', length, weight: 'plain', what: null } as const;
  return {
    ...time,
    bar,
    pulse,
    hit,
    cell: { name, hits: [], weight: 1, tempo: [0, 1000], intensity: [0, 1], place: null },
  };
}
