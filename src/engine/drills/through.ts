import { guideTones, type Span } from '../harmony/index.ts';
import { tonesOf } from '../neck/index.ts';
import { guideToneLines, type GuideTone } from '../scales/index.ts';
import { leadTo, leadWhy, type Lead } from './approach.ts';
import { Pen, type Beats, type Stroke } from './pen.ts';
import { restingTones, rungsOf, type Reach, type Rung } from './rungs.ts';
import type { DrillSettings, Passage } from './types.ts';

/** A line has room where it can reach a fifth: every chord has a resting note within it. Semitones. */
const LEAST = 7;

/** What lies under a line through changes. */
export interface Road {
  readonly passage: Passage;
  readonly reach: Reach;
  readonly unit: number;
  readonly beats: Beats;
  readonly from: number;
  readonly settings: DrillSettings;
}

/** The notes to choose from over a span: the scale, or the chord tones without tensions. */
export function rungsOver({ passage, reach }: Road, span: number, what: 'scale' | 'chord'): readonly Rung[] {
  const { chord } = passage.changes.spans[span]!;
  if (chord === null) return [];
  const scale = passage.scales[span];
  return rungsOf(what === 'chord' || !scale ? restingTones(chord) : scale.notes, reach);
}

/**
 * Where a line may come to rest at the end: half way through the last bar, on a beat, or where its last chord
 * begins, if that bar belongs to no other. Our choice, so that there is time to hear the rest before the
 * changes come round.
 */
function restingPlace({ passage: { changes }, beats }: Road): number {
  const bar = changes.bars.at(-1)!;
  const { beat } = beats.barAt(bar.start);
  const count = Math.floor(bar.length / beat);
  const middle = Math.max(bar.start, bar.start + bar.length - Math.max(1, Math.floor(count / 2)) * beat);
  const last = changes.spans.findLast(({ chord }) => chord !== null);
  if (last === undefined) return 0;
  return middle >= last.start && middle < last.start + last.length ? middle : last.start;
}

/** Which span sounds at a tick. */
const spanAt = (spans: readonly Span[], at: number): number =>
  spans.findLastIndex(({ start }) => start <= at);

/**
 * A line that runs on through the changes: each note is the next one in its direction of what fits the chord
 * that sounds then, so that every change is met by the nearest next note; at the end of the reach it turns.
 * In turns it also turns at each change. It comes to rest on a root, guide tone or fifth of the last chord.
 */
export function through(road: Road, what: 'scale' | 'chord'): readonly Stroke[] {
  const { passage, reach, unit, beats, from, settings } = road;
  const { changes } = passage;
  if (reach.high - reach.low < LEAST) return [];
  const rest = Math.max(restingPlace(road), from);
  const pen = new Pen(from);
  let up = settings.direction !== 'down';
  let before = -1;
  while (pen.at < rest) {
    const span = spanAt(changes.spans, pen.at);
    const rungs = rungsOver(road, span, what);
    if (rungs.length === 0) {
      const { start, length } = changes.spans[span]!;
      pen.at = beats.beatFrom(start + length);
      before = -1;
      continue;
    }
    const isChange = span !== before;
    if (isChange && before >= 0 && settings.direction === 'turns') up = !up;
    const last = pen.last;
    const next = last === null ? firstOf(rungs, up) : onward(rungs, last.pitch, up);
    if (last !== null && next.pitch > last.pitch !== up) up = !up;
    const why = !isChange ? `on ${up ? 'up' : 'down'}` : last === null ? 'begins here' : 'nearest next note';
    pen.play(next, Math.min(unit, rest - pen.at), `${why}: the ${next.degree}`, isChange);
    before = span;
  }
  comeToRest(road, pen, rest);
  return pen.strokes;
}

/** A line begins on the lowest root, or the highest where it goes down. */
function firstOf(rungs: readonly Rung[], up: boolean): Rung {
  const roots = rungs.filter(({ role }) => role === 'root');
  return (up ? (roots[0] ?? rungs[0]) : (roots.at(-1) ?? rungs.at(-1)))!;
}

/** The next note in a direction; the other way where the ladder ends. */
function onward(rungs: readonly Rung[], pitch: number, up: boolean): Rung {
  const above = rungs.find((rung) => rung.pitch > pitch);
  const under = rungs.findLast((rung) => rung.pitch < pitch);
  return (up ? (above ?? under) : (under ?? above)) ?? rungs[0]!;
}

function comeToRest(road: Road, pen: Pen, rest: number): void {
  const { changes } = road.passage;
  const span = changes.spans.findLastIndex(({ chord, start }) => chord !== null && start <= rest);
  const goals = span < 0 ? [] : rungsOver(road, span, 'chord');
  const { last } = pen;
  if (goals.length === 0 || last === null) return;
  const far = ({ pitch }: Rung) => Math.abs(pitch - last.pitch);
  const others = goals.filter(({ pitch }) => pitch !== last.pitch);
  const goal = (others.length > 0 ? others : goals).reduce((near, rung) =>
    far(rung) < far(near) ? rung : near,
  );
  const { start, length } = changes.spans[span]!;
  pen.at = rest;
  pen.play(goal, start + length - rest, `comes to rest on the ${goal.degree}`, true);
}

/**
 * One guide-tone line: from the third or the seventh of the first chord, each held while its chord lasts. It
 * begins in the octave in which most of it lies within reach; where it runs off the end, it goes on an octave
 * away.
 */
export function guideLine({ passage, reach, from, settings }: Road): readonly Stroke[] {
  const { spans } = passage.changes;
  const line = guideToneLines(passage.changes)[settings.line === 'third' ? 0 : 1].filter(
    ({ span }) => spans[span]!.start + spans[span]!.length > from,
  );
  const rungsFor = (tone: GuideTone) =>
    rungsOf(tonesOf(spans[tone.span]!.chord!), reach).filter(({ degree }) => degree === tone.degree);
  const pen = new Pen(from);
  for (const tone of line) {
    const { start, length } = spans[tone.span]!;
    const { last } = pen;
    const rung =
      last === null
        ? firstInReach(rungsFor(tone), line, reach)
        : nearest(rungsFor(tone), last.pitch + (tone.move ?? 0));
    if (rung === undefined) continue;
    pen.at = Math.max(start, from);
    const why = last === null ? 'the line begins' : moved(rung.pitch - last.pitch);
    pen.play(rung, start + length - pen.at, `${why}: the ${tone.degree}`, true);
  }
  return pen.strokes;
}

/** The first note from which most of a line stays within reach, as near the middle as that allows. */
function firstInReach(
  starts: readonly Rung[],
  line: readonly GuideTone[],
  { low, high }: Reach,
): Rung | undefined {
  let sum = 0;
  const moves = line.map(({ move }, i) => (sum += i === 0 ? 0 : (move ?? 0)));
  const within = ({ pitch }: Rung) =>
    moves.filter((move) => pitch + move >= low && pitch + move <= high).length;
  const most = Math.max(...starts.map(within));
  return nearest(
    starts.filter((start) => within(start) === most),
    (low + high) / 2,
  );
}

const moved = (semitones: number): string =>
  semitones === 0 ? 'stays' : `${semitones < 0 ? 'down' : 'up'} ${Math.abs(semitones)}`;

const nearest = (rungs: readonly Rung[], pitch: number): Rung | undefined =>
  rungs.length === 0
    ? undefined
    : rungs.reduce((near, rung) =>
        Math.abs(rung.pitch - pitch) < Math.abs(near.pitch - pitch) ? rung : near,
      );

/** The first guide tone of every chord on its first beat, led to from outside, the nearest to the one before. */
export function leadsThrough(road: Road, lead: Lead): readonly Stroke[] {
  const { passage, reach, unit, from } = road;
  const pen = new Pen(from);
  let target = (reach.low + reach.high) / 2;
  for (const [span, { chord, start, length }] of passage.changes.spans.entries()) {
    if (chord === null || start + length <= from) continue;
    const wanted = guideTones(chord)[0] ?? '1';
    const goals = rungsOf(tonesOf(chord), reach).filter(({ degree }) => degree === wanted);
    const goal = nearest(goals, target);
    if (goal === undefined) continue;
    // What leads there still stands over the chord before: it is a degree of neither.
    const leaders = leadTo(goal, rungsOver(road, span, 'scale'), lead).map((rung) => ({
      ...rung,
      degree: null,
    }));
    const lead0 = start - leaders.length * unit;
    const last = pen.strokes.at(-1);
    if (lead0 >= from && (last === undefined || lead0 > last.at)) {
      if (last !== undefined) pen.holdUntil(Math.min(lead0, last.at + last.length));
      pen.at = lead0;
      for (const [n, leader] of leaders.entries()) pen.play(leader, unit, leadWhy(leader, goal), n === 0);
    }
    pen.at = Math.max(start, from);
    pen.play(
      goal,
      start + length - pen.at,
      `the ${goal.degree}, on the beat it begins`,
      leaders.length === 0,
    );
    target = goal.pitch;
  }
  return pen.strokes;
}
