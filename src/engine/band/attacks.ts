import type { Chord, Span } from '../harmony/index.ts';
import { randomFor, ticks, type Ticks } from '../units/index.ts';
import { fits } from './fits.ts';
import { isClear, kicksOf, type Kick, type Kicks } from './hits.ts';
import type { Hit } from './notation.ts';
import { phrasesOf } from './phrase.ts';
import type { BarGrid } from './pulses.ts';
import { APART, apart, startsOf, strokesOf, type Stroke } from './rhythm.ts';
import type { Style } from './style.ts';
import type { RoundPlan } from './types.ts';

/** What an attack is called that no rhythm brought. */
const CHANGE = 'on the change';

/** One stroke of the comping hand, before it has notes. */
export interface Attack {
  /** As it sounds, without the hand's lateness. */
  readonly at: Ticks;
  /** As it is written. */
  readonly nominal: Ticks;
  readonly bar: number;
  readonly chord: Chord;
  /** Index of the span it sounds; the number of spans for the first of the next round. */
  readonly span: number;
  /** How long the harmony it sounds goes on, on the round's beat line. */
  readonly limit: Ticks;
  /** The length of the pulse it lies in. */
  readonly pulse: Ticks;
  /** It sounds the chord that comes, an off-beat early. */
  readonly pushed: boolean;
  /** It must sound on its beat to the tick: a live change of colour. */
  readonly exact: boolean;
  /** It is written into the chart. */
  readonly written: boolean;
  readonly length: Hit['length'];
  readonly weight: Hit['weight'];
  /** What the rhythm is called. */
  readonly figure: string;
}

/**
 * Every attack of the round, also those before `plan.from`, so that the rhythm is the same wherever the
 * plan begins: the feel's rhythm, pushed into the changes, and a stroke for every chord it leaves out.
 */
export function attacksOf(plan: RoundPlan, style: Style): readonly Attack[] {
  const { grid, offbeat } = style;
  const harmony = harmonyOf(plan, grid, offbeat);
  const kicks = kicksOf(plan, style);
  const rhythm = fromRhythm(plan, style, harmony, kicks);
  const attacks = new Map(rhythm.map((attack) => [attack.nominal as number, attack]));
  // The beat a push goes into is not struck again, unless a hit is written there.
  const leave = (at: number) => {
    if (attacks.get(at)?.written !== true) attacks.delete(at);
  };
  for (const { pushed, span } of rhythm) if (pushed) leave(harmony.spans[span]!.start);
  const rings = ringsOnInto(plan);
  if (rings) leave(0);

  const heard = new Set(
    [...attacks.values()]
      .filter((attack) => isSoon(attack, harmony.spans[attack.span]!, grid))
      .map((attack) => attack.span),
  );
  if (rings) heard.add(0);
  const first = firstStrike(plan, grid, harmony, attacks.values());
  if (first !== null && !kicks.compStops.has(first.bar)) {
    attacks.set(first.nominal, { ...first, ...attacks.get(first.nominal), weight: first.weight });
    heard.add(first.span);
  }
  plan.changes.spans.forEach((span, index) => {
    const exact = mustStrike(plan, span);
    if (span.chord === null || (heard.has(index) && !exact)) return;
    if (kicks.compStops.has(span.bar) && !exact) return;
    const there = attacks.get(span.start);
    const change = onTheChange(span, index, grid, harmony);
    attacks.set(span.start, exact ? { ...change, ...there, ...EXACT, at: span.start } : change);
  });
  const needed = (attack: Attack) =>
    attack.figure === CHANGE || attack.exact || attack.written || attack.nominal === first?.nominal;
  return apart([...attacks.values()], needed);
}

/**
 * Where nothing has sounded before, the chord is stated at once, so that nobody has to wait for the
 * harmony: an attack right where the music begins, or where its first chord does. Our choice.
 * @param attacks the rhythm, which may push into that chord
 */
function firstStrike(
  { changes, from, carry }: RoundPlan,
  grid: readonly BarGrid[],
  harmony: Harmony,
  attacks: Iterable<Attack>,
): Attack | null {
  if (carry.voicing !== null) return null;
  const index = changes.spans.findIndex(
    ({ start, length, chord }) => chord && start + length > from + 2 * APART,
  );
  const span = changes.spans[index];
  if (span === undefined) return null;
  for (const attack of attacks) if (attack.pushed && attack.span === index && attack.at >= from) return null;
  const sounds = harmony.starts[index]!;
  const begins = sounds > from - APART;
  const pulses = grid.flatMap((bar) => bar.pulses);
  const beat = pulses.findLast(({ at }) => at <= from)?.at ?? from;
  const start = begins ? span.start : from - beat < APART ? beat : from;
  const bar = grid.findLast((each) => each.bar.start <= start)?.index ?? span.bar;
  const stroke = onTheChange({ ...span, start, bar }, index, grid, harmony);
  return {
    ...stroke,
    at: begins ? sounds : start,
    length: 'held',
    weight: 'accent',
    figure: 'the chord is stated',
  };
}

/** A chord is heard in time when it is struck within a bar's length of its beginning. Our choice. */
function isSoon({ nominal }: Attack, span: Span, grid: readonly BarGrid[]): boolean {
  return nominal < span.start + (grid[span.bar]?.bar.length ?? span.length);
}

const EXACT = { exact: true, weight: 'accent', figure: 'the new colour on its beat' } as const;

/** The spans of the round and the first of the next, with where they begin and end to the ear. */
interface Harmony {
  readonly spans: readonly Span[];
  readonly starts: readonly Ticks[];
  readonly limits: readonly Ticks[];
}

function harmonyOf({ changes, next }: RoundPlan, grid: readonly BarGrid[], offbeat: number): Harmony {
  const coming = next === null ? [] : [{ ...next, start: ticks(changes.length + next.start) }];
  const spans = [...changes.spans, ...coming];
  const starts = startsOf(spans, grid, offbeat);
  return { spans, starts, limits: limitsOf(spans, starts) };
}

/** The feel's rhythm over the chords; an off-beat before a change is pushed into it, or left out. */
function fromRhythm(
  { changes, settings, round, ending }: RoundPlan,
  { grid, offbeat, feelIn }: Style,
  { spans, starts, limits }: Harmony,
  kicks: Kicks,
): readonly Attack[] {
  const phrases = phrasesOf(grid, feelIn, settings, round);
  const written = kicks.list.flatMap((kick) => fromKick(kick, spans[kick.span]?.chord ?? null, limits));
  let span = 0;
  const free = grid.flatMap((bar) => {
    if (kicks.compStops.has(bar.index)) return [];
    const random = randomFor(settings.seed, 'comp', round, bar.index, 'push');
    return strokesOf(bar, phrases[bar.index] ?? [], offbeat).flatMap((stroke): Attack[] => {
      while (span + 1 < changes.spans.length && starts[span + 1]! <= stroke.at) span++;
      const pulse = bar.pulses[stroke.pulse]!;
      const coming = spans[span + 1];
      const late = stroke.nominal - pulse.at >= pulse.length / 2;
      const early = late && coming?.start === pulse.at + pulse.length;
      const anticipates = random.chance(feelIn(bar, round).comp.anticipate);
      const pushed = early && coming.chord !== null;
      const last = ending === true && span + 1 === changes.spans.length;
      if (pushed && (isLive(coming) || last || !anticipates)) return [];
      if (!isClear(stroke.nominal, [...kicks.list, ...kicks.coming])) return [];
      const sounding = pushed ? span + 1 : span;
      const chord = spans[sounding]?.chord ?? null;
      if (chord === null) return [];
      const limit = limits[sounding]!;
      // Too short before the change to be a chord.
      if (limit - stroke.at < pulse.length / 8) return [];
      return [{ ...fromStroke(stroke), chord, span: sounding, limit, pulse: pulse.length, pushed }];
    });
  });
  return [...free, ...written].sort((a, b) => a.at - b.at);
}

/** What a written hit is called. */
const WRITTEN = 'written hit';

/** A written hit, struck as it is written; none where there is no chord. */
function fromKick(kick: Kick, chord: Chord | null, limits: readonly Ticks[]): readonly Attack[] {
  if (chord === null) return [];
  const { at, nominal, bar, span, unit, pushed } = kick;
  const limit = ticks(Math.max(limits[span]!, at + 1));
  const length = kick.length === 'long' ? 'held' : 'short';
  const weight = kick.accent === 'strong' ? 'accent' : 'plain';
  const rest = { length, weight, figure: WRITTEN, exact: false, written: true } as const;
  return [{ at, nominal, bar, chord, span, limit, pulse: unit, pushed, ...rest }];
}

/** An attack on the first beat of a span. */
function onTheChange(
  { start, length, bar, chord }: Span,
  index: number,
  grid: readonly BarGrid[],
  { starts, limits }: Harmony,
): Attack {
  const pulse = grid[bar]?.pulses.find(({ at, length: long }) => start >= at && start < at + long);
  return {
    at: starts[index]!,
    nominal: start,
    bar,
    chord: chord!,
    span: index,
    limit: limits[index]!,
    pulse: pulse?.length ?? length,
    pushed: false,
    exact: false,
    written: false,
    length: 'plain',
    weight: 'plain',
    figure: CHANGE,
  };
}

function fromStroke(stroke: Stroke) {
  const { at, nominal, bar, hit, cell } = stroke;
  const { length, weight } = hit;
  return { at, nominal, bar, exact: false, written: false, length, weight, figure: cell.name };
}

const isLive = (span: Span): boolean => span.treatment?.origin === 'live';

/**
 * Whether a span must be struck on its first beat whatever the rhythm says: a live change of colour is
 * heard at once, and where music resumes under a ringing chord that has become wrong, the right one
 * is struck.
 */
function mustStrike(plan: RoundPlan, span: Span): boolean {
  if (isLive(span)) return true;
  const { carry, from } = plan;
  if (span.start !== from || span.chord === null || carry.ringsUntil === null) return false;
  return carry.ringsUntil > from && carry.voicing !== null && !fits(carry.voicing, span.chord);
}

/** Whether a push of the round before still sounds the first chord of this one. */
function ringsOnInto({ from, carry, changes }: RoundPlan): boolean {
  const chord = changes.spans[0]?.chord;
  if (from !== 0 || !chord || carry.ringsUntil === null || carry.ringsUntil <= 0) return false;
  return carry.voicing === null || fits(carry.voicing, chord);
}

/** Until when each span's harmony sounds: a chord written anew goes on. `starts` as they sound. */
function limitsOf(spans: readonly Span[], starts: readonly Ticks[]): readonly Ticks[] {
  const limits: Ticks[] = [];
  for (let i = spans.length - 1; i >= 0; i--) {
    const [span, next] = [spans[i]!, spans[i + 1]];
    const goesOn = next !== undefined && next.chord?.text === span.chord?.text && !isLive(next);
    limits[i] = goesOn ? limits[i + 1]! : (starts[i + 1] ?? ticks(span.start + span.length));
  }
  return limits;
}
