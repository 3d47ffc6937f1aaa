import { PPQ, midi, randomFor, ticks, velocity, type NoteEvent } from '../units/index.ts';
import { bassFigure } from './bass-rhythm.ts';
import type { Beat } from './beat.ts';
import { answering, liveliness, shareOf } from './dialogue.ts';
import { drumHits } from './drum-hits.ts';
import { fillsOf, sectionsOf, SHORT_ROUND, type Fill } from './fills.ts';
import type { Feel, Voice } from './feel.ts';
import { feltTempo } from './felt.ts';
import { phrasesOf } from './phrase.ts';
import type { BarGrid } from './pulses.ts';
import {
  cellsFor,
  figureRandom,
  pickCell,
  placeInPhrase,
  strokesOf,
  tilesOf,
  within,
  type Chosen,
  type Stroke,
} from './rhythm.ts';
import { styleOf, type Style } from './style.ts';
import { isOpen } from './trade.ts';
import { lateness } from './swing.ts';
import type { PartPlayer, RoundPlan } from './types.ts';

/** How late a stroke may be, in seconds: the cymbal hardly, because everyone else is measured by it. Our choice. */
const STICKS = 0.002;
const COMMENT = 0.006;

/** How hard a solo is struck at middling intensity, as a velocity. Our choice. */
const SOLO = 60;

const KICK = 36;
/** Hi-hats: what still keeps time where the chart says N.C. */
const HATS: ReadonlySet<number> = new Set([42, 44]);

/** Plays the drums: time, comments that answer the comping, set-ups and fills. */
export const drum: PartPlayer = (plan) => {
  const { settings, round, from } = plan;
  const style = styleOf(plan);
  const { grid, offbeat, feelIn } = style;
  const fills = fillsOf(plan, style);
  const sections = sectionsOf(grid);
  const comping = phrasesOf(grid, feelIn, settings, round);
  const hits = drumHits(plan, style);

  const notes = grid.flatMap((bar) => {
    const feel = feelIn(bar, round);
    const heard = {
      comp: placesOf(strokesOf(bar, comping[bar.index] ?? [], offbeat)),
      bass: placesOf(bassFigure(plan, bar, style)),
    };
    const written = hits.beatsIn(bar.index);
    if (hits.stops.has(bar.index)) return bare(written).map((beat) => noteOf(beat, plan, bar));
    const fill = hits.leaveRoomFor(fills[bar.index] ?? null, bar) ? fills[bar.index]! : null;
    const section = sections[bar.index]!;
    if (isOpen(plan, bar.index)) return openBar(plan, bar, style, heard, section.count);
    const beats = [
      ...feel.drums.voices.flatMap((voice) => voiceIn(plan, bar, voice, offbeat, heard, section.count)),
      ...(section.opens ? landing(plan, bar, feel, offbeat, fills[bar.index - 1] ?? null) : []),
    ].filter((beat) => plays(beat, fill, plan) && hits.leave(beat));
    return bare([...beats, ...filling(fill), ...written]).map((beat) => noteOf(beat, plan, bar));
  });
  return notes.filter((note) => note.at >= from).sort((a, b) => a.at - b.at || a.pitch - b.pitch);
};

const placesOf = (strokes: readonly Stroke[]): ReadonlySet<number> =>
  new Set(strokes.map((stroke) => stroke.nominal));

/** What the others play in a bar, by the places where they strike. */
interface Heard {
  readonly comp: ReadonlySet<number>;
  readonly bass: ReadonlySet<number>;
}

/** What one limb plays in a bar. */
function voiceIn(
  plan: RoundPlan,
  bar: BarGrid,
  voice: Voice,
  offbeat: number,
  { comp, bass }: Heard,
  section: number,
): readonly Beat[] {
  const { changes, settings, round } = plan;
  if (!within(feltTempo(settings), voice.tempo)) return [];
  const comment = voice.role === 'comment';
  const place = placeInPhrase(bar, changes.bars.length, round);
  const rate = comment ? voice.rate * liveliness(settings) : voice.rate;
  if (!randomFor(settings.seed, 'drums', round, bar.index, voice.name).chance(rate)) return [];
  const random = figureRandom(plan, bar, `drums/${voice.name}`, voice.hold);
  const chosen = tilesOf(bar, voice.cells).flatMap((tile) => {
    const cells = cellsFor(tile, voice.cells, settings, place);
    const cell = pickCell(random, cells, (option) => {
      const locked = voice.with === 'bass';
      if (!comment && !locked) return 1;
      const strokes = strokesOf(bar, [{ tile, cell: option }], offbeat);
      if (locked) return 0.05 + shareOf(strokes, bass) ** 2;
      return answering(strokes, comp, voice.keys.includes(KICK));
    });
    return cell === null ? [] : [{ tile, cell }];
  });
  const key = voice.keys[section % voice.keys.length]!;
  const strokes = strokesOf(bar, chosen, offbeat);
  const end = bar.bar.start + bar.bar.length;
  return strokes.map((stroke, i) => ({
    stroke,
    // A stroke that is held, such as the circle of a brush, lasts to the next one.
    held: Math.max(1, (strokes[i + 1]?.at ?? end) - stroke.at),
    key: stroke.hit.what === null ? key : Number(stroke.hit.what),
    level: voice.level,
    comment,
    why: comment
      ? `${voice.name} ${comp.has(stroke.nominal) ? 'with' : 'answers'} the comping: ${stroke.cell.name}`
      : `${voice.name}: ${stroke.cell.name}`,
  }));
}

/** A bar that is left to the player: time without comments, or a solo over the hi-hat. */
function openBar(
  plan: RoundPlan,
  bar: BarGrid,
  { feelIn, offbeat }: Style,
  heard: Heard,
  section: number,
): readonly NoteEvent[] {
  const { drums } = feelIn(bar, plan.round);
  const solo = plan.settings.trade?.goesOn === 'drum-solo' ? soloIn(plan, bar, drums, offbeat) : [];
  const time = drums.voices
    .filter(({ role, keys }) => role === 'time' && (solo.length === 0 || keys.every((key) => HATS.has(key))))
    .flatMap((voice) => voiceIn(plan, bar, voice, offbeat, heard, section));
  const beats = [...time, ...solo].filter((beat) => plays(beat, null, plan));
  return bare(beats).map((beat) => noteOf(beat, plan, bar));
}

/** The drummer's own bar: figures from the feel's solo, or from its fills where it has none. */
function soloIn(plan: RoundPlan, bar: BarGrid, drums: Feel['drums'], offbeat: number): readonly Beat[] {
  const { settings, round, changes } = plan;
  const table = drums.solo.size > 0 ? drums.solo : drums.fills;
  const random = randomFor(settings.seed, 'drums', round, bar.index, 'solo');
  const place = placeInPhrase(bar, changes.bars.length, round);
  const chosen = tilesOf(bar, table).flatMap((tile) => {
    const cell = pickCell(random, cellsFor(tile, table, settings, place));
    return cell === null ? [] : [{ tile, cell }];
  });
  return strokesOf(bar, chosen, offbeat).map((stroke) => ({
    stroke,
    key: Number(stroke.hit.what ?? 38),
    level: SOLO,
    comment: true,
    why: `drum solo: ${stroke.cell.name}`,
  }));
}

const LANDING: Chosen = {
  tile: { first: 0, size: 1 },
  cell: {
    name: 'landing',
    hits: [{ pulse: 0, place: '', length: 'held', weight: 'plain', what: null }],
    weight: 1,
    tempo: [0, 1000],
    intensity: [0, 1],
    place: null,
  },
};

/** A new section is landed on: bass drum, and a crash where the band plays hard enough. */
function landing(
  { changes, settings, round }: RoundPlan,
  bar: BarGrid,
  feel: Feel,
  offbeat: number,
  setUp: Fill | null,
): readonly Beat[] {
  const turns = bar.index === 0 && round > 0 && changes.bars.length >= SHORT_ROUND;
  if ((setUp === null && !turns) || feel.drums.crash === null) return [];
  const random = randomFor(settings.seed, 'drums', round, bar.index, 'landing');
  if (!random.chance((turns ? 0.5 : 1) * (0.15 + 0.8 * settings.intensity))) return [];
  return strokesOf(bar, [LANDING], offbeat).flatMap((stroke) => [
    { stroke, key: feel.drums.crash!, level: 58, comment: true, why: 'crash: a new section' },
    { stroke, key: KICK, level: 56, comment: true, why: 'bass drum: a new section' },
  ]);
}

/** Whether a stroke stands beside the bar's fill and what the chart asks for. */
function plays({ stroke, key, comment }: Beat, fill: Fill | null, { changes }: RoundPlan): boolean {
  if (fill !== null && stroke.nominal >= fill.begins) {
    if (comment) return false;
    if (fill.dense && !HATS.has(key)) return false;
  }
  const silent = changes.spans.some(
    (span) =>
      span.silence === 'no-chord' &&
      stroke.nominal >= span.start &&
      stroke.nominal < span.start + span.length,
  );
  return !silent || HATS.has(key);
}

function filling(fill: Fill | null): readonly Beat[] {
  if (fill === null) return [];
  return fill.strokes.map((stroke) => ({
    stroke,
    key: Number(stroke.hit.what ?? 38),
    level: fill.level,
    comment: true,
    why: `${fill.why}: ${stroke.cell.name}`,
  }));
}

/** No key is struck twice at once: the louder stroke stays. */
function bare(beats: readonly Beat[]): readonly Beat[] {
  const kept = new Map<string, Beat>();
  for (const beat of beats) {
    const place = `${beat.stroke.at}/${beat.key}`;
    const there = kept.get(place);
    if (there === undefined || there.level < beat.level) kept.set(place, beat);
  }
  return [...kept.values()];
}

function noteOf(
  { stroke, key, level, comment, why, held }: Beat,
  { settings, round }: RoundPlan,
  bar: BarGrid,
): NoteEvent {
  const random = randomFor(settings.seed, 'drums', round, bar.index, key, stroke.nominal);
  const late = lateness(random, settings, 0, comment ? COMMENT : STICKS);
  const weight = { accent: 1.14, plain: 1, ghost: 0.72 }[stroke.hit.weight];
  const hard = 0.7 + 0.6 * settings.intensity;
  const length = stroke.hit.length === 'held' ? (held ?? bar.pulses[stroke.pulse]!.length) : PPQ / 4;
  return {
    at: ticks(stroke.at + late),
    length: ticks(Math.round(length)),
    pitch: midi(key),
    name: null,
    degree: null,
    velocity: velocity(level * hard * weight * (0.94 + 0.12 * random.next())),
    part: 'drums',
    why,
  };
}
