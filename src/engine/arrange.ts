import type { BandSettings, PlacedHit } from './band/index.ts';
import { unfold, readChart, type Chart, type Form } from './chart/index.ts';
import type { Lead } from './lead.ts';
import { plainName, transposeName, type Changes, type Key } from './harmony/index.ts';
import {
  changesInKey,
  formInKey,
  gapOf,
  keyInterval,
  keyOffset,
  ladderTempo,
  musicPieces,
  playPieces,
  withGap,
  type Gap,
  type Piece,
  type Practice,
  type Standing,
  type Stretch,
} from './practice/index.ts';
import { treat, writtenChanges, type TreatmentLayers } from './treatment/index.ts';
import { ticks, type Bpm, type Ticks } from './units/index.ts';

/** All that decides what the band plays, the chance in its seed included. */
export interface PlayPlan {
  /** The chart as typed, for whoever keeps the plan; the band reads only what follows. */
  readonly text?: string;
  /** The chart unfolded, before treatment. */
  readonly written: Changes;
  readonly layers: TreatmentLayers;
  /** The stretch that loops; null plays the whole form round and round. */
  readonly loop: Stretch | null;
  readonly settings: BandSettings;
  /** Hits written into the chart; none when left out. */
  readonly hits?: readonly PlacedHit[];
  /** The music goes round as it is when left out. */
  readonly practice?: Practice;
  /** Where practice has come to; at its beginning when left out. */
  readonly standing?: Standing;
  /** A drill played over each round; none when left out. */
  readonly lead?: Lead;
  /** The tick of the form that all of it stands for, where it plays something else than the form. */
  readonly stands?: Ticks;
}

/** A chart read and unfolded. */
export interface Reading {
  readonly chart: Chart;
  readonly form: Form;
  readonly written: Changes;
}

/** Reads a chart's text as far as the changes as written. Total on any text. */
export function readText(text: string): Reading {
  const chart = readChart(text);
  const form = unfold(chart);
  return { chart, form, written: writtenChanges(form) };
}

/** A chart and its key as they sound so many semitones higher, 0 to 11; itself at home. */
export function readingInKey(
  reading: Reading,
  key: Key | null,
  semitones: number,
): { readonly reading: Reading; readonly key: Key | null } {
  const interval = keyInterval(reading.written, semitones);
  if (interval === null) return { reading, key };
  const written = changesInKey(reading.written, semitones);
  const form = formInKey(reading.form, reading.written, semitones);
  return {
    reading: { chart: reading.chart, form, written },
    key: key && { ...key, tonic: plainName(transposeName(key.tonic, interval)) },
  };
}

/** Where practice stands before its first round. */
export function firstStanding({ ladder }: Practice, tempo: Bpm): Standing {
  return { ladder: { round: 0, tempo: ladder?.from ?? tempo }, keys: { round: 0, step: 0 } };
}

/** By how many semitones the chart is moved in a round, 0 to 11. */
export function roundKey(plan: PlayPlan, round: number): number {
  const { practice, settings } = plan;
  return practice?.keys == null ? 0 : keyOffset(practice.keys, standingOf(plan), round, settings.seed);
}

/** The tempo of a round. */
export function roundTempo(plan: PlayPlan, round: number): Bpm {
  const { practice, settings } = plan;
  return practice?.ladder == null ? settings.tempo : ladderTempo(practice.ladder, standingOf(plan), round);
}

function standingOf({ practice, standing, settings }: PlayPlan): Standing {
  return standing ?? firstStanding(practice!, settings.tempo);
}

/** The changes of the whole form as they are treated in a round, in that round's key. */
export function formChanges(plan: PlayPlan, round: number): Changes {
  const written = changesInKey(plan.written, roundKey(plan, round));
  return treat(written, plan.layers, { round, seed: plan.settings.seed });
}

/** What of the form a round plays, in order; what lies after the last piece is the silence between rounds. */
export function roundPieces({ written, loop, practice }: PlayPlan): readonly Piece[] {
  return musicPieces(written.length, loop, practice ?? null);
}

/** The changes of one round, treated: the whole form, or the stretch that loops, without what follows it. */
export function roundMusic(plan: PlayPlan, round: number): Changes {
  const treated = formChanges(plan, round);
  return plan.loop === null ? treated : playPieces(treated, roundPieces(plan));
}

/** The silence after each round. */
export function roundGap(plan: PlayPlan): Gap {
  const first = roundPieces(plan)[0]?.form ?? 0;
  const bar = plan.written.bars.findLast(({ start }) => start <= first);
  return gapOf(bar, plan.practice ?? null);
}

/** The changes of one round, treated, with the silence that follows. */
export function roundChanges(plan: PlayPlan, round: number): Changes {
  return withGap(roundMusic(plan, round), roundGap(plan));
}

/** How long every round of the plan lasts. */
export function roundLength(plan: PlayPlan): Ticks {
  const music = roundPieces(plan).reduce((sum, { length }) => sum + length, 0);
  return ticks(music === 0 ? 0 : music + roundGap(plan).length);
}

/** The tick of the form that is heard at a tick of a round; null in the silence after it. */
export function formTickOf(plan: PlayPlan, at: number): number | null {
  const piece = roundPieces(plan).findLast((known) => known.at <= at);
  if (piece === undefined || at >= piece.at + piece.length) return null;
  if (plan.stands !== undefined) return plan.stands;
  return piece.form + at - piece.at;
}
