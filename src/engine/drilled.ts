import { readText, type Reading } from './arrange.ts';
import {
  buildDrill,
  DRILL_KINDS,
  type Drill,
  type DrillGround,
  type KeptDrill,
  type Passage,
} from './drills/index.ts';
import type { Form } from './chart/index.ts';
import {
  homeKey,
  plainName,
  readKeys,
  transposeChord,
  transposeName,
  type Changes,
  type FunctionReading,
  type Interval,
  type Span,
} from './harmony/index.ts';
import type { Drilled } from './lead.ts';
import type { NeckSetting } from './neck/index.ts';
import { musicPieces, playPieces, type Piece } from './practice/index.ts';
import { stretchOf, type ScalePick, type Trouble } from './project.ts';
import { pickedOr, suggestAt, type ScaleChoice } from './scales/index.ts';
import { indexAt, treat } from './treatment/index.ts';
import { fail, ok, type Result } from './units/index.ts';

/** A chart as drills are made over it: how it is treated in its first round, and which scales it takes. */
export interface DrillSource {
  readonly chart: Drilled;
  readonly form: Form;
  /** The changes of the whole form before treatment, and as they are treated in the first round. */
  readonly written: Changes;
  readonly changes: Changes;
  /** How each span of `written` is heard. */
  readonly heard: readonly (FunctionReading | null)[];
  readonly picks: readonly ScalePick[];
  /** What of the form a round plays: all of it, or what loops with its run-up and its landing. */
  readonly pieces: readonly Piece[];
}

/**
 * Reads a chart for its drills. It takes about as long as reading its keys, so do it once for all drills of a
 * project. Total on any project.
 * @param reading the project's text as read, where it is at hand
 */
export function drillSource(project: Drilled, reading: Reading = readText(project.text)): DrillSource {
  const { form, written } = reading;
  const loop = project.loop && stretchOf(project.loop, written);
  return {
    chart: project,
    form,
    written,
    changes: treat(written, project.layers, { round: 0, seed: project.settings.seed }),
    heard: readKeys(written, project.key ?? homeKey(written)),
    picks: project.scales,
    pieces: musicPieces(written.length, loop, project.practice),
  };
}

/**
 * A kept drill as notes: over the chord at its place, or over all changes, which are what loops, with run-up and
 * landing, where something does. The same drill, chart and neck give the same notes.
 * @param source the chart, as {@link drillSource} reads it
 * @returns the drill, whose `problem` may still say that the neck has no room for it; or why there is none
 */
export function drillOf(
  { place, settings }: Pick<KeptDrill, 'place' | 'settings'>,
  source: DrillSource,
  neck: NeckSetting,
): Result<Drill, Trouble> {
  const ground = groundOf(place, source);
  if (!ground.ok) return ground;
  const { name, over } = DRILL_KINDS[settings.kind];
  if (!(over as readonly string[]).includes(ground.value.over)) {
    return fail({
      message: `“${name}” is made over ${over[0] === 'chord' ? 'one chord' : 'changes'}.`,
      remedy: `Choose ${over[0] === 'chord' ? 'a chord' : 'all changes'} for it, or another kind of drill.`,
    });
  }
  return ok(buildDrill(settings, ground.value, neck));
}

/** What a drill at a place is made over; the reason where nothing sounds there. Null is all changes. */
export function groundOf(place: KeptDrill['place'], source: DrillSource): Result<DrillGround, Trouble> {
  if (source.changes.spans.every(({ chord }) => chord === null)) {
    return fail({
      message: 'The chart has no chord to make a drill over.',
      remedy: 'Type one in it, e.g. G7alt.',
    });
  }
  if (place !== null) return chordAt(place, source);
  const music = playPieces(source.changes, source.pieces);
  if (music.spans.every(({ chord }) => chord === null)) {
    return fail({
      message: 'No chord sounds in what loops.',
      remedy: 'Loop bars with a chord in them, or play the whole form.',
    });
  }
  return ok({ over: 'changes', passage: passageOf(music, source, null) });
}

function chordAt(
  { bar, at }: NonNullable<KeptDrill['place']>,
  source: DrillSource,
): Result<DrillGround, Trouble> {
  const { form, changes } = source;
  const played = form.bars.find((known) => known.bar.index === bar);
  if (played === undefined || at >= played.bar.length) {
    return fail({
      message: `The chart has no such beat in bar ${bar + 1} any more.`,
      remedy: 'Choose another chord for the drill, or remove it.',
    });
  }
  const { spans } = changes;
  const index = indexAt(spans, played.start + at);
  const { chord } = spans[index]!;
  const scale = chord && scaleAt(changes, index, played.start + at, source, null);
  if (chord === null || scale === null) {
    return fail({
      message: `No chord sounds in bar ${bar + 1}, where the drill is.`,
      remedy: 'Choose another chord for it.',
    });
  }
  const after = spans.map((_, i) => spans[(index + 1 + i) % spans.length]!.chord);
  const next = after.find((other) => other?.text !== chord.text) ?? null;
  return ok({ over: 'chord', place: { chord, scale, next, metre: played.bar.metre } });
}

/**
 * The changes of a round with the scale of each span: the one that was picked for its place, else the one
 * suggested first where it stands in the form.
 * @param music of the round, without the silence after it
 * @param by how far the round is moved from the chart's own key; null where it is not
 */
export function passageOf(music: Changes, source: DrillSource, by: Interval | null): Passage {
  const { spans } = source.changes;
  const count = spans.length;
  const formTick = (at: number) => {
    const piece = source.pieces.findLast((known) => known.at <= at)!;
    return piece.form + at - piece.at;
  };
  /** What stands before the music and after it in the form. */
  const beside = (at: number, step: number): Span => {
    const span = spans[(indexAt(spans, formTick(at)) + step + count) % count]!;
    return by === null || span.chord === null ? span : { ...span, chord: transposeChord(span.chord, by) };
  };
  if (music.spans.length === 0) return { changes: music, scales: [] };
  const around = { ...music, spans: [beside(0, -1), ...music.spans, beside(music.length - 1, 1)] };
  const scales = music.spans.map(({ chord, start }, i) =>
    chord === null ? null : scaleAt(around, i + 1, formTick(start), source, by),
  );
  return { changes: music, scales };
}

/** The scale of a span of some changes that is heard at a tick of the form; null where there is no chord. */
function scaleAt(
  changes: Changes,
  index: number,
  formTick: number,
  { form, written, changes: treated, heard, picks }: DrillSource,
  by: Interval | null,
): ScaleChoice | null {
  const { chord, treatment } = changes.spans[index]!;
  if (chord === null) return null;
  const reading = heard[indexAt(written.spans, formTick)] ?? null;
  const offered = suggestAt(changes, index, reading && by ? moved(reading, by) : reading);
  const span = treated.spans[indexAt(treated.spans, formTick)]!;
  const bar = form.bars[span.bar];
  const pick = picks.find((known) => known.bar === bar?.bar.index && known.at === span.start - bar.start);
  return pickedOr(pick?.scale ?? null, chord, treatment !== null, offered);
}

const moved = (reading: FunctionReading, by: Interval): FunctionReading => ({
  ...reading,
  key: { ...reading.key, tonic: plainName(transposeName(reading.key.tonic, by)) },
});
