import { readText, type PlayPlan } from './arrange.ts';
import { drillOf, drillSource, groundOf, passageOf, type DrillSource } from './drilled.ts';
import {
  buildDrill,
  type Drill,
  type DrillChord,
  type DrillSettings,
  type KeptDrill,
} from './drills/index.ts';
import { pitchClass, transposeChord, type Changes, type Interval } from './harmony/index.ts';
import type { Drilled, Lead, LeadOrigin } from './lead.ts';
import type { NeckSetting } from './neck/index.ts';
import { keyInterval } from './practice/index.ts';
import type { Trouble } from './project.ts';
import { transposeScale } from './scales/index.ts';
import { joinChanges, sliceChanges } from './treatment/index.ts';
import { beatLength, metreName, ok, ticks, type Result } from './units/index.ts';

const KEYS = 12;

/** What a plan with a drill has otherwise than the chart's: its line, and over a chord bars of its own. */
export type DrillPlay = { readonly lead: Lead } & Partial<
  Pick<PlayPlan, 'text' | 'written' | 'layers' | 'hits' | 'loop' | 'stands'>
>;

/**
 * How a drill is played: to be laid over the chart's plan, `{ ...plan, ...play }`. Over changes the band plays
 * what it would play without it; over a chord it plays the drill's own bars, and the plan says where in the form
 * that chord stands. Ladder, key round, rests and silent bars stay those of the plan.
 * @param inKeys true where a key round goes on: each round has the drill in its own key, and every round as many
 * bars as the longest of the twelve needs
 * @returns with the band; `lead.alone` is for whoever plays it to set
 */
export function drillPlay(
  drill: Pick<KeptDrill, 'place' | 'settings'>,
  source: DrillSource,
  neck: NeckSetting,
  inKeys: boolean,
): Result<DrillPlay, Trouble> {
  const made = drillOf(drill, source, neck);
  if (!made.ok) return made;
  const ground = groundOf(drill.place, source);
  if (!ground.ok) return ground;
  const from: LeadOrigin = { drill, chart: source.chart, neck };
  if (ground.value.over === 'changes') {
    return ok({ lead: { ...leadThrough(drill.settings, source, neck), from } });
  }
  const { place } = ground.value;
  const inKey = remembered((by: Interval | null) =>
    by === null ? made.value : buildDrill(drill.settings, over(place, by), neck),
  );
  const home = textOf(made.value.changes);
  const { written } = readText(home);
  const moves = inKeys ? Array.from({ length: KEYS }, (_, key) => key) : [0];
  const length = Math.max(...moves.map((semitones) => inKey(keyInterval(written, semitones)).changes.length));
  const text = length === written.length ? home : textOf(repeated(written, length));
  const vamp = readText(text).written;
  const played = source.form.bars.find(({ bar }) => bar.index === drill.place!.bar)!;
  return ok({
    text,
    written: vamp,
    layers: { placed: [], rules: [] },
    hits: [],
    loop: null,
    stands: ticks(played.start + drill.place!.at),
    lead: {
      alone: false,
      from,
      drill: (changes) => fitted(inKey(keyInterval(vamp, semitonesTo(changes, vamp))), changes),
      scaleAt(changes, span) {
        const { chord, scale } = over(place, keyInterval(vamp, semitonesTo(changes, vamp))).place;
        const here = changes.spans[span];
        return here?.treatment === null && here.chord?.text === chord.text ? scale : null;
      },
    },
  });
}

/**
 * A drill as it was played over a chart before: the same drill, chart and neck give the same line.
 * @param from its neck, and whether the band was silent with it
 * @returns null where the chart has no place for it
 */
export function drillAgain(
  { place, settings }: Pick<KeptDrill, 'place' | 'settings'>,
  chart: Drilled,
  from: { readonly neck: NeckSetting; readonly alone: boolean },
): DrillPlay | null {
  const made = drillPlay({ place, settings }, drillSource(chart), from.neck, chart.practice.keys !== null);
  return made.ok ? { ...made.value, lead: { ...made.value.lead, alone: from.alone } } : null;
}

/** A drill through the changes of each round, whatever was altered in them. */
function leadThrough(settings: DrillSettings, source: DrillSource, neck: NeckSetting): Lead {
  const known = new WeakMap<Changes, Drill>();
  return {
    alone: false,
    drill(changes) {
      let drill = known.get(changes);
      if (drill === undefined) {
        const by = keyInterval(source.written, movedBy(changes, source));
        drill = buildDrill(settings, { over: 'changes', passage: passageOf(changes, source, by) }, neck);
        known.set(changes, drill);
      }
      return drill;
    },
  };
}

/** By how many semitones a round's changes are moved, told from what the chart says at their first chord. */
function movedBy(changes: Changes, { written, pieces }: DrillSource): number {
  const span = changes.spans.find((each) => each.written !== null);
  if (span === undefined) return 0;
  const piece = pieces.findLast(({ at }) => at <= span.start)!;
  const at = piece.form + span.start - piece.at;
  const home = written.spans.findLast(({ start }) => start <= at)?.written;
  return home == null ? 0 : semitones(home.root, span.written!.root);
}

const semitones = (from: string, to: string) => (pitchClass(to) - pitchClass(from) + KEYS) % KEYS;

function semitonesTo(changes: Changes, home: Changes): number {
  const there = changes.spans[0]?.written?.root;
  const here = home.spans[0]?.written?.root;
  return there === undefined || here === undefined ? 0 : semitones(here, there);
}

/** A chord to make a drill over, moved. */
function over(place: DrillChord, by: Interval | null) {
  if (by === null) return { over: 'chord', place } as const;
  const { chord, scale, next } = place;
  const moved = {
    ...place,
    chord: transposeChord(chord, by),
    scale: transposeScale(scale, by),
    next: next && transposeChord(next, by),
  };
  return { over: 'chord', place: moved } as const;
}

/** One answer for each interval. */
function remembered(make: (by: Interval | null) => Drill): (by: Interval | null) => Drill {
  const known = new Map<string, Drill>();
  return (by) => {
    const key = by === null ? '' : `${by.letters} ${by.semitones}`;
    let drill = known.get(key);
    if (drill === undefined) known.set(key, (drill = make(by)));
    return drill;
  };
}

const longer = new WeakMap<Drill, WeakMap<Changes, Drill>>();

/** A drill in a round that may go on after it; one object for one round. */
function fitted(drill: Drill, changes: Changes): Drill {
  const known = longer.get(drill) ?? new WeakMap<Changes, Drill>();
  longer.set(drill, known);
  let there = known.get(changes);
  if (there === undefined) known.set(changes, (there = { ...drill, changes }));
  return there;
}

/** Changes from their beginning again and again, `length` long. */
function repeated(changes: Changes, length: number): Changes {
  const times = Math.ceil(length / changes.length);
  return sliceChanges(joinChanges(Array.from({ length: times }, () => changes)), ticks(0), ticks(length));
}

/** Whole bars of one metre as a chart's text: each chord on its beat, held by slashes. */
function textOf({ bars, spans }: Changes): string {
  const { metre } = bars[0]!;
  const beat = beatLength(metre);
  const lines = bars.map(({ start, length }) =>
    Array.from({ length: length / beat }, (_, i) => {
      const span = spans.findLast((each) => each.start <= start + i * beat)!;
      return i === 0 || span.start === start + i * beat ? span.chord!.text : '/';
    }).join(' '),
  );
  return `${metreName(metre)} ${lines.join(' | ')} |`;
}
