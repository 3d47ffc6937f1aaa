import {
  HIT_SIGNS,
  isFlat,
  PPQ,
  ticks,
  type Extent,
  type PlacedHit,
  type PlacedTreatment,
  type Project,
  type Ticks,
  type Trade,
  type TreatmentRule,
  type When,
} from '../engine/index.ts';
import { beatsText } from './beats.ts';
import { drillToFile, formToFile } from './drills.ts';
import { handoutToFile } from './handout.ts';
import { FORMAT, type Hit, type ProjectFile, type Rule, type Treatment } from './schema.ts';
import { practiceToFile } from './practice.ts';
import { stepToFile } from './step.ts';
import type * as v from 'valibot';

/** The name of item `index` of a list where the file gives none. */
export const usualId = (prefix: 't' | 'r' | 'h', index: number) => `${prefix}${index + 1}`;

/** A project as the chart file holds it, the fields of a newer version last. */
export function toFile(project: Project): ProjectFile {
  const { settings, layers, key } = project;
  return {
    vampwright: FORMAT,
    title: project.title,
    chart: project.text.split('\n'),
    ...(key && { key: `${key.tonic} ${key.mode}` }),
    band: {
      tempo: settings.tempo,
      feel: settings.feel,
      swing: settings.swingRatio ?? 'with the tempo',
      voicing: settings.voicing,
      density: settings.density,
      intensity: settings.intensity,
      seed: settings.seed,
      ...(settings.build && { build: settings.build }),
      ...(settings.time && { time: settings.time }),
      ...(settings.two && { two: settings.two }),
      ...(settings.comping && { comping: settings.comping }),
      ...(settings.pedal && { pedal: settings.pedal }),
      ...(settings.approach && { approach: settings.approach }),
      ...(settings.trade && { trade: tradeToFile(settings.trade) }),
      ...(settings.chords && { chords: settings.chords }),
    },
    treatments: layers.placed.map(treatmentToFile),
    rules: layers.rules.map(ruleToFile),
    ...(project.hits.length > 0 && { hits: project.hits.map(hitToFile) }),
    ...(project.loop && { loop: { ...place(project.loop), beats: beatsText(project.loop.length) } }),
    ...practiceToFile(project.practice),
    scales: project.scales.map((pick) => ({ ...place(pick), scale: pick.scale })),
    ...(project.drills.length > 0 && { drills: project.drills.map(drillToFile) }),
    ...(project.forms.length > 0 && { forms: project.forms.map(formToFile) }),
    ...handoutToFile(project.handout),
    ...stepToFile(project),
    mix: project.mix,
    ...(!isFlat(project.tone) && { tone: project.tone }),
    tags: [...project.tags],
    words: project.words,
    source: project.source,
    licence: project.licence,
    ...project.others,
  };
}

const tradeToFile = ({ bars, every, goesOn }: Trade) => ({ bars, every, with: goesOn });

function treatmentToFile(item: PlacedTreatment, index: number): v.InferOutput<typeof Treatment> {
  return {
    kind: item.kind,
    ...place(item),
    beats: beatsText(item.length),
    ...whenToFile(item.when),
    ...(item.id !== usualId('t', index) && { id: item.id }),
  };
}

function ruleToFile(item: TreatmentRule, index: number): v.InferOutput<typeof Rule> {
  return {
    kind: item.kind,
    on: item.scope,
    extent: extentToFile(item.extent),
    ...(item.bars && { bars: [...item.bars] }),
    ...whenToFile(item.when),
    ...(item.id !== usualId('r', index) && { id: item.id }),
  };
}

function hitToFile(item: PlacedHit, index: number): v.InferOutput<typeof Hit> {
  return {
    ...place(item),
    sign: HIT_SIGNS[`${item.accent} ${item.length}`],
    ...(item.by !== 'band' && { by: item.by }),
    ...(item.stop && { stop: true }),
    ...(item.id !== usualId('h', index) && { id: item.id }),
  };
}

function place({ bar, at }: { readonly bar: number; readonly at: Ticks }) {
  return { bar: bar + 1, beat: beatsText(ticks(at + PPQ)) };
}

function whenToFile(when: When): { when?: { every: number } | { chance: number } } {
  if (when.type === 'always') return {};
  return { when: when.type === 'every' ? { every: when.nth } : { chance: when.chance } };
}

function extentToFile(extent: Extent) {
  if (extent.type === 'whole') return 'whole' as const;
  const length = beatsText(extent.length);
  return extent.type === 'first' ? { first: length } : { last: length };
}
