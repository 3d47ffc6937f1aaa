import {
  clickTrack,
  comp,
  drum,
  dropOut,
  settingsIn,
  walk,
  type BandSettings,
  type Carry,
  type PlacedHit,
  type RoundPlan,
} from './band/index.ts';
import { unfold, readChart, type Chart, type Form } from './chart/index.ts';
import type { Lead } from './lead.ts';
import { plainName, transposeName, type Changes, type Degree, type Key, type Span } from './harmony/index.ts';
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
import { ticks, type Bpm, type NoteEvent, type Ticks } from './units/index.ts';

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

/**
 * The same changes with neighbouring spans of one sounding harmony made one, so that the band hears
 * four bars of C7alt as one long chord however they are written.
 */
export function mergeRepeats(changes: Changes): Changes {
  const spans: Span[] = [];
  for (const span of changes.spans) {
    const last = spans.at(-1);
    const same = last !== undefined && span.chord?.text === last.chord?.text && span.silence === last.silence;
    if (same) spans[spans.length - 1] = { ...last, length: ticks(last.length + span.length) };
    else spans.push(span);
  }
  return { ...changes, spans };
}

const PLAYERS = [comp, walk, drum, clickTrack];

/** All parts of a round from `plan.from` on, in order of onset. */
export function arrangeRound(plan: RoundPlan): readonly NoteEvent[] {
  const played = { ...plan, settings: settingsIn(plan.settings, plan.round) };
  const notes = PLAYERS.flatMap((player) => player(played)).sort((a, b) => a.at - b.at);
  return plan.dropout ? dropOut(notes, plan, plan.dropout) : notes;
}

/**
 * What sounds just before `at`, read off the notes that lead up to it. Times in the answer are on the
 * beat line of `start` and `at`.
 * @param notes one block's notes in order of onset, counted from `start`
 * @param before what sounded when the block began
 */
export function carryAt(notes: readonly NoteEvent[], start: Ticks, at: Ticks, before: Carry): Carry {
  let bass = before.bass;
  let chord: NoteEvent[] = [];
  for (const note of notes) {
    if (start + note.at >= at) break;
    if (note.part === 'bass') bass = note.pitch;
    if (note.part === 'comp') chord = chord[0]?.at === note.at ? [...chord, note] : [note];
  }
  if (chord.length === 0) return { ...before, bass };
  chord.sort((a, b) => a.pitch - b.pitch);
  return {
    bass,
    voicing: {
      pitches: chord.map((note) => note.pitch),
      names: chord.map((note) => note.name ?? ''),
      degrees: chord.map((note) => note.degree as Degree),
    },
    ringsUntil: ticks(start + Math.max(...chord.map((note) => note.at + note.length))),
  };
}
