import type * as v from 'valibot';
import {
  bpm,
  fail,
  FEEL_NAMES,
  levelOf,
  newProject,
  ok,
  PARTS,
  PPQ,
  ticks,
  type BandSettings,
  type Extent,
  type HomeKey,
  type Loop,
  type Level,
  type Mix,
  type Opened,
  type PlacedHit,
  type PlacedTreatment,
  type Result,
  type ScalePick,
  type Ticks,
  type Shelves,
  type TreatmentLayers,
  type TreatmentRule,
  type Trouble,
  type When,
} from '../engine/index.ts';
import { readBeats, type BeatsText } from './beats.ts';
import { readDrills, readForms } from './drills.ts';
import { readFields, readItems, readObject, reportUnknown } from './fields.ts';
import { readHandout } from './handout.ts';
import { isObject, type JsonObject } from './json.ts';
import { Notices } from './notices.ts';
import { readPractice } from './practice.ts';
import {
  BandFields,
  FORMAT,
  Hit,
  LevelFields,
  ListFields,
  LoopFields,
  MixFields,
  Pick,
  PlainFields,
  Rule,
  ToneFields,
  Treatment,
} from './schema.ts';
import { readStep } from './step.ts';
import { usualId } from './write.ts';

/**
 * A project from the object a chart file holds. Each field is taken for itself: what cannot be
 * understood is said in a notice, the rest stands. Fields not known here are kept in `others`.
 */
export function fromFile(raw: JsonObject): Result<Opened, Trouble> {
  const version = raw['vampwright'];
  if (!(typeof version === 'number' && Number.isInteger(version) && version >= 1)) {
    return fail({
      message: 'The file does not say that it is a chart of this program.',
      remedy: 'Choose a file that was saved here.',
    });
  }
  const notices = new Notices();
  if (version > FORMAT) {
    notices.add('the file', 'comes from a newer version; what is new in it may be missing here');
  }
  const plain = readFields(raw, PlainFields, '', notices);
  if (raw['chart'] === undefined) notices.add('chart', 'is missing; there are no changes to play');
  const usual = newProject();
  const drills = readDrills(raw['drills'], notices);
  const project = newProject({
    title: plain.title ?? usual.title,
    text: typeof plain.chart === 'string' ? plain.chart : (plain.chart ?? []).join('\n'),
    key: plain.key === undefined ? null : readKey(plain.key),
    settings: readBand(raw['band'], notices),
    layers: readLayers(raw, notices),
    hits: readHits(raw['hits'], notices),
    loop: readLoop(raw['loop'], notices),
    practice: readPractice(raw['practice'], notices),
    scales: readScales(raw['scales'], notices),
    drills,
    forms: readForms(raw['forms'], notices),
    handout: readHandout(raw['handout'], notices),
    step: readStep(raw['step'], drills, notices),
    mix: readMix(raw['mix'], notices),
    tone: readTone(raw['tone'], notices),
    tags: plain.tags ?? usual.tags,
    words: plain.words ?? usual.words,
    source: plain.source ?? usual.source,
    licence: plain.licence ?? usual.licence,
    others: readOthers(raw, notices),
  });
  return ok({ project, notices: notices.list() });
}

const KNOWN = new Set<string>([
  'vampwright',
  'band',
  'loop',
  'handout',
  'step',
  'mix',
  'tone',
  'practice',
  ...keys(PlainFields),
  ...keys(ListFields),
]);

function keys(fields: object): string[] {
  return Object.keys(fields);
}

function readOthers(raw: JsonObject, notices: Notices): JsonObject {
  const others: [string, unknown][] = [];
  for (const [name, value] of Object.entries(raw)) {
    if (KNOWN.has(name)) continue;
    if (name === '__proto__') notices.add(name, 'is no field of a chart and was left out');
    else others.push([name, value]);
  }
  for (const [name] of others) notices.add(name, 'is not known to this version; it is kept, and not used');
  return Object.fromEntries(others);
}

function readKey(text: string): HomeKey {
  const [tonic, mode] = text.split(' ') as [string, HomeKey['mode']];
  return { tonic, mode };
}

function readBand(raw: unknown, notices: Notices): BandSettings {
  const usual = newProject().settings;
  const band = readObject(raw, BandFields, 'band', notices);
  return {
    tempo: band.tempo === undefined ? usual.tempo : bpm(band.tempo),
    feel: readFeelName(band.feel, notices) ?? usual.feel,
    swingRatio: typeof band.swing === 'number' ? band.swing : usual.swingRatio,
    voicing: band.voicing ?? usual.voicing,
    density: band.density ?? usual.density,
    intensity: band.intensity ?? usual.intensity,
    seed: band.seed ?? usual.seed,
    ...(band.build && { build: band.build }),
    ...(band.time && { time: band.time }),
    ...(band.two && { two: band.two }),
    ...(band.comping && { comping: band.comping }),
    ...(band.pedal && { pedal: band.pedal }),
    ...(band.approach && { approach: band.approach }),
    ...readTrade(band.trade, notices),
    ...(band.chords && { chords: band.chords }),
  };
}

function readTrade(
  trade: v.InferOutput<typeof BandFields.trade>,
  notices: Notices,
): Pick<BandSettings, 'trade'> {
  if (trade === undefined) return {};
  const { bars, every, with: goesOn } = trade;
  if (bars < every) return { trade: { bars, every, goesOn } };
  notices.refuse('band, trade', trade, 'fewer bars than those they are taken from');
  return {};
}

function readFeelName(name: string | undefined, notices: Notices): string | undefined {
  if (name === undefined || FEEL_NAMES.has(name)) return name;
  notices.refuse('band, feel', name, `one of ${[...FEEL_NAMES.keys()].join(', ')}`);
  return undefined;
}

function readMix(raw: unknown, notices: Notices): Mix {
  const usual = newProject().mix;
  if (raw === undefined) return usual;
  if (!isObject(raw)) {
    notices.refuse('mix', raw, 'a level for each part');
    return usual;
  }
  reportUnknown(raw, MixFields, 'mix', notices);
  const said = PARTS.filter((part) => part !== 'lead' || raw[part] !== undefined);
  const levels = said.map((part) => {
    const first = levelOf(usual, part);
    const level = readObject(raw[part], LevelFields, `mix, ${part}`, notices);
    return [
      part,
      {
        level: level.level ?? first.level,
        mute: level.mute ?? first.mute,
        ...(level.solo === true && { solo: true }),
        ...(level.pan !== undefined && { pan: level.pan }),
      } satisfies Level,
    ];
  });
  return Object.fromEntries(levels) as Mix;
}

function readTone(raw: unknown, notices: Notices): Shelves {
  const usual = newProject().tone;
  const { low = usual.low, high = usual.high } = readObject(raw, ToneFields, 'tone', notices);
  return { low, high };
}

function readLayers(raw: JsonObject, notices: Notices): TreatmentLayers {
  const placedIds = new Set<string>();
  const placed = readItems(raw['treatments'], Treatment, 'treatments', notices, (item, index, place) => {
    const span = readSpan(item, place, notices);
    const id = freshId(item.id ?? usualId('t', index), placedIds);
    const when = readWhen(item.when);
    return span && ({ id, kind: item.kind, ...span, when } satisfies PlacedTreatment);
  });
  const ruleIds = new Set<string>();
  const rules = readItems(raw['rules'], Rule, 'rules', notices, (item, index, place) => {
    const extent = readExtent(item.extent, place, notices);
    const id = freshId(item.id ?? usualId('r', index), ruleIds);
    const rest = { scope: item.on, bars: item.bars ?? null, when: readWhen(item.when) };
    return extent && ({ id, kind: item.kind, extent, ...rest } satisfies TreatmentRule);
  });
  return { placed, rules };
}

/** `id`, or the same with a number where it is taken. */
function freshId(id: string, taken: Set<string>): string {
  let fresh = id;
  for (let copy = 2; taken.has(fresh); copy++) fresh = `${id}-${copy}`;
  taken.add(fresh);
  return fresh;
}

function readLoop(raw: unknown, notices: Notices): Loop | null {
  if (raw === undefined) return null;
  const { bar, beat, beats } = readObject(raw, LoopFields, 'loop', notices);
  if (bar === undefined || beat === undefined || beats === undefined) {
    notices.add('loop', 'needs a bar, a beat and a number of beats; the whole form is played');
    return null;
  }
  return readSpan({ bar, beat, beats }, 'loop', notices);
}

function readHits(raw: unknown, notices: Notices): readonly PlacedHit[] {
  const ids = new Set<string>();
  return readItems(raw, Hit, 'hits', notices, (item, index, place) => {
    const at = readPlace(item, place, notices);
    if (at === null) return null;
    const [accent, length] = ARTICULATIONS[item.sign ?? '>'];
    const id = freshId(item.id ?? usualId('h', index), ids);
    return { id, ...at, accent, length, by: item.by ?? 'band', stop: item.stop ?? false };
  });
}

const ARTICULATIONS = {
  '^': ['strong', 'short'],
  '>': ['strong', 'long'],
  '.': ['light', 'short'],
  '-': ['light', 'long'],
} as const;

function readScales(raw: unknown, notices: Notices): readonly ScalePick[] {
  return readItems(raw, Pick, 'scales', notices, (item, _, place) => {
    const at = readPlace(item, place, notices);
    return at && { ...at, scale: item.scale };
  });
}

interface Written {
  readonly bar: number;
  readonly beat: BeatsText;
}

function readPlace({ bar, beat }: Written, place: string, notices: Notices) {
  const at = readBeats(beat);
  if (at !== null && at >= PPQ) return { bar: bar - 1, at: ticks(at - PPQ) };
  notices.refuse(`${place}, beat`, beat, 'a beat, counted from 1');
  return null;
}

function readSpan(item: Written & { readonly beats: BeatsText }, place: string, notices: Notices) {
  const start = readPlace(item, place, notices);
  const length = readLength(item.beats, place, notices);
  return start && length && { ...start, length };
}

function readLength(beats: BeatsText, place: string, notices: Notices): Ticks | null {
  const length = readBeats(beats);
  if (length !== null && length > 0) return length;
  notices.refuse(`${place}, beats`, beats, 'a length of more than no beats');
  return null;
}

function readWhen(when: v.InferOutput<typeof Treatment>['when']): When {
  if (when === undefined || when === 'always') return { type: 'always' };
  return 'every' in when ? { type: 'every', nth: when.every } : { type: 'chance', chance: when.chance };
}

function readExtent(
  extent: v.InferOutput<typeof Rule>['extent'],
  place: string,
  notices: Notices,
): Extent | null {
  if (extent === undefined || extent === 'whole') return { type: 'whole' };
  const [type, beats] =
    'first' in extent ? (['first', extent.first] as const) : (['last', extent.last] as const);
  const length = readLength(beats, place, notices);
  return length && { type, length };
}
