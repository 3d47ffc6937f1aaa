import {
  clickTrack,
  comp,
  drum,
  settingsIn,
  walk,
  type BandSettings,
  type Carry,
  type RoundPlan,
} from './band/index.ts';
import { unfold, readChart, type Chart, type Form } from './chart/index.ts';
import type { Changes, Degree, PlayedBar, Span } from './harmony/index.ts';
import { sliceChanges, treat, writtenChanges, type TreatmentLayers } from './treatment/index.ts';
import { ticks, type NoteEvent, type Ticks } from './units/index.ts';

/** A stretch of the form's beat line, `to` exclusive. */
export interface Stretch {
  readonly from: Ticks;
  readonly to: Ticks;
}

/** All that decides what the band plays, the chance in its seed included. */
export interface PlayPlan {
  /** The chart unfolded, before treatment. */
  readonly written: Changes;
  readonly layers: TreatmentLayers;
  /** The stretch that loops; null plays the whole form round and round. */
  readonly loop: Stretch | null;
  readonly settings: BandSettings;
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

/** The changes of one round, treated: the whole form, or the stretch that loops. */
export function roundChanges(plan: PlayPlan, round: number): Changes {
  const treated = treat(plan.written, plan.layers, { round, seed: plan.settings.seed });
  return plan.loop === null ? treated : sliceChanges(treated, plan.loop.from, plan.loop.to);
}

/** How long every round of the plan lasts. */
export function roundLength(plan: PlayPlan): Ticks {
  return plan.loop === null ? plan.written.length : ticks(plan.loop.to - plan.loop.from);
}

/** Several changes one after the other, as one. */
export function joinChanges(parts: readonly Changes[]): Changes {
  const bars: PlayedBar[] = [];
  const spans: Span[] = [];
  let at = 0;
  for (const part of parts) {
    const firstBar = bars.length;
    for (const bar of part.bars) bars.push({ ...bar, start: ticks(at + bar.start) });
    for (const span of part.spans) {
      spans.push({ ...span, start: ticks(at + span.start), bar: firstBar + span.bar });
    }
    at += part.length;
  }
  return { length: ticks(at), bars, spans };
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
  return PLAYERS.flatMap((player) => player(played)).sort((a, b) => a.at - b.at);
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
