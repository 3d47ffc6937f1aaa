import { fail, ok, type Result } from '../units/index.ts';
import { readHits, type Hit } from './notation.ts';
import { LAST_PLACE } from './last-place.ts';
import type { Swing } from './swing.ts';

/** A rhythm for a bar, or for one group of its beats. */
export interface Cell {
  /** What musicians call it, or what it does. */
  readonly name: string;
  readonly hits: readonly Hit[];
  /** How often it is chosen against its neighbours. */
  readonly weight: number;
  /** Tempi at which it is played, quarter notes a minute, both ends included. */
  readonly tempo: readonly [number, number];
  /** How hard the band must play for it, 0 to 1, both ends included. */
  readonly intensity: readonly [number, number];
  /** In which bar of a two-bar phrase it belongs; null for either. */
  readonly place: 'first' | 'second' | null;
}

/** Cells by the number of pulses they fill. */
export type CellTable = ReadonlyMap<number, readonly Cell[]>;

/** One limb of the drummer: a sound and what it plays. */
export interface Voice {
  readonly name: string;
  /** General MIDI percussion keys; each section of the form takes the next. */
  readonly keys: readonly number[];
  /** Velocity at middling intensity. */
  readonly level: number;
  /** Time is kept in every bar; a comment is made now and then, and answers the comping. */
  readonly role: 'time' | 'comment';
  /** Chance that the voice plays in a bar, 0 to 1. */
  readonly rate: number;
  /** Chance that the voice keeps its figure through four bars instead of choosing anew, 0 to 1. */
  readonly hold: number;
  /** Whose rhythm it minds: a comment answers the comping, time may lock in with the bass. */
  readonly with: 'comp' | 'bass';
  readonly tempo: readonly [number, number];
  readonly cells: CellTable;
}

/** How a style is played, as `presets/feels/*.json` describe it. */
export interface Feel {
  readonly id: string;
  readonly name: string;
  readonly source: string;
  /** Its place among the others where they are listed; smaller comes first. */
  readonly order: number;
  readonly swing: Swing;
  /** Which kit the drums want. */
  readonly kit: 'sticks' | 'brushes';
  /** The feel whose cells are taken where this one has none. */
  readonly otherwise: string | null;
  /** The feel that plays the same music in two, or null. */
  readonly inTwo: string | null;
  readonly comp: {
    /** Chance that an off-beat before a change already sounds the next chord, 0 to 1. */
    readonly anticipate: number;
    /** How busy the style is beside swing, 1 being alike. */
    readonly busy: number;
    /** Chance that a phrase begins with the rhythm the phrase before began with, 0 to 1. */
    readonly riff: number;
    readonly level: number;
    readonly cells: CellTable;
  };
  readonly bass: {
    readonly level: number;
    /** As of a drum voice. */
    readonly hold: number;
    readonly cells: CellTable;
  };
  readonly drums: {
    readonly voices: readonly Voice[];
    readonly fills: CellTable;
    /** What leads up to a written hit: cells of one or two pulses that end where the hit stands. */
    readonly setUps: CellTable;
    /** What the drummer plays alone. */
    readonly solo: CellTable;
    /** Key struck where a new section begins, or null. */
    readonly crash: number | null;
  };
}

/** A sentence that says where in a feel something is wrong. */
type Wrong = string;

class Misread extends Error {}

/**
 * Reads a feel from data. Unknown fields are left alone.
 * @returns the feel, or one sentence naming the field that is wrong
 */
export function readFeel(data: unknown): Result<Feel, Wrong> {
  try {
    return ok(feelFrom(data));
  } catch (error) {
    if (error instanceof Misread) return fail(error.message);
    throw error;
  }
}

/**
 * A feel with the cells of `base` for every number of pulses it has none for itself; the drums' voices
 * are matched by name.
 */
export function withBase(feel: Feel, base: Feel): Feel {
  const filled = (own: CellTable, other: CellTable | undefined): CellTable =>
    new Map([...(other ?? []), ...own]);
  return {
    ...feel,
    comp: { ...feel.comp, cells: filled(feel.comp.cells, base.comp.cells) },
    bass: { ...feel.bass, cells: filled(feel.bass.cells, base.bass.cells) },
    drums: {
      ...feel.drums,
      voices: feel.drums.voices.map((voice) => ({
        ...voice,
        cells: filled(voice.cells, base.drums.voices.find(({ name }) => name === voice.name)?.cells),
      })),
      fills: filled(feel.drums.fills, base.drums.fills),
      setUps: filled(feel.drums.setUps, base.drums.setUps),
      solo: filled(feel.drums.solo, base.drums.solo),
    },
  };
}

function feelFrom(data: unknown): Feel {
  const feel = record(data, 'feel');
  const [comp, bass, drums] = ['comp', 'bass', 'drums'].map((key) => record(feel[key], key)) as [
    Fields,
    Fields,
    Fields,
  ];
  return {
    id: text(feel['id'], 'id'),
    name: text(feel['name'], 'name'),
    source: text(feel['source'], 'source'),
    order: number(feel['order'] ?? LAST_PLACE, 0, LAST_PLACE, 'order'),
    swing: swingFrom(feel['swing']),
    kit: oneOf(feel['kit'], ['sticks', 'brushes'], 'kit'),
    otherwise: feel['otherwise'] === undefined ? null : text(feel['otherwise'], 'otherwise'),
    inTwo: feel['inTwo'] === undefined ? null : text(feel['inTwo'], 'inTwo'),
    comp: {
      anticipate: number(comp['anticipate'], 0, 1, 'comp.anticipate'),
      busy: number(comp['busy'] ?? 1, 0, 3, 'comp.busy'),
      riff: number(comp['riff'] ?? 0.3, 0, 1, 'comp.riff'),
      level: number(comp['level'], 1, 127, 'comp.level'),
      cells: table(comp['cells'], 'comp.cells'),
    },
    bass: {
      level: number(bass['level'], 1, 127, 'bass.level'),
      hold: number(bass['hold'] ?? 0, 0, 1, 'bass.hold'),
      cells: table(bass['cells'], 'bass.cells'),
    },
    drums: {
      voices: list(drums['voices'], 'drums.voices').map(voiceFrom),
      fills: table(drums['fills'] ?? {}, 'drums.fills'),
      setUps: table(drums['setUps'] ?? {}, 'drums.setUps'),
      solo: table(drums['solo'] ?? {}, 'drums.solo'),
      crash: drums['crash'] === undefined ? null : number(drums['crash'], 27, 87, 'drums.crash'),
    },
  };
}

function voiceFrom(data: unknown, index: number): Voice {
  const at = `drums.voices[${index}]`;
  const voice = record(data, at);
  return {
    name: text(voice['name'], `${at}.name`),
    keys: list(voice['keys'], `${at}.keys`).map((key) => number(key, 27, 87, `${at}.keys`)),
    level: number(voice['level'], 1, 127, `${at}.level`),
    role: oneOf(voice['role'], ['time', 'comment'], `${at}.role`),
    rate: number(voice['rate'] ?? 1, 0, 1, `${at}.rate`),
    hold: number(voice['hold'] ?? 0, 0, 1, `${at}.hold`),
    with: oneOf(voice['with'] ?? 'comp', PARTNERS, `${at}.with`),
    tempo: range(voice['tempo'], 0, 1000, `${at}.tempo`),
    cells: table(voice['cells'], `${at}.cells`),
  };
}

function table(data: unknown, at: string): CellTable {
  const cells = new Map<number, readonly Cell[]>();
  for (const [pulses, rows] of Object.entries(record(data, at))) {
    const size = number(Number(pulses), 1, 32, `${at}.${pulses}`);
    cells.set(
      size,
      list(rows, `${at}.${pulses}`).map((row, index) => cellFrom(row, size, `${at}.${pulses}[${index}]`)),
    );
  }
  return cells;
}

const PARTNERS = ['comp', 'bass'] as const;
const PLACES = ['first', 'second'] as const;

function cellFrom(data: unknown, size: number, at: string): Cell {
  const cell = record(data, at);
  const written = cell['hits'];
  if (typeof written !== 'string') throw new Misread(`${at}.hits must be text`);
  const hits = readHits(written);
  if ('unread' in hits) throw new Misread(`${at}.hits: "${hits.unread}" is no hit`);
  const beyond = hits.find((hit) => hit.pulse >= size);
  if (beyond !== undefined)
    throw new Misread(`${at}.hits: beat ${beyond.pulse + 1} lies beyond ${size} beats`);
  return {
    name: text(cell['name'], `${at}.name`),
    hits,
    weight: number(cell['weight'] ?? 1, 0, 1000, `${at}.weight`),
    tempo: range(cell['tempo'], 0, 1000, `${at}.tempo`),
    intensity: range(cell['intensity'], 0, 1, `${at}.intensity`),
    place: cell['place'] === undefined ? null : oneOf(cell['place'], PLACES, `${at}.place`),
  };
}

function swingFrom(data: unknown): Swing {
  if (data === 'tempo' || data === 'straight') return data;
  if (typeof data === 'number') return number(data, 1, 4, 'swing');
  throw new Misread(`swing must be "tempo", "straight" or a ratio, not ${JSON.stringify(data)}`);
}

type Fields = Readonly<Record<string, unknown>>;

function record(data: unknown, at: string): Fields {
  if (typeof data !== 'object' || data === null || Array.isArray(data)) {
    throw new Misread(`${at} must be an object`);
  }
  return data as Fields;
}

function list(data: unknown, at: string): readonly unknown[] {
  if (!Array.isArray(data) || data.length === 0) throw new Misread(`${at} must be a list with entries`);
  return data;
}

function text(data: unknown, at: string): string {
  if (typeof data !== 'string' || data === '') throw new Misread(`${at} must be text`);
  return data;
}

function number(data: unknown, least: number, most: number, at: string): number {
  if (typeof data !== 'number' || !(data >= least && data <= most)) {
    throw new Misread(`${at} must be a number from ${least} to ${most}, not ${JSON.stringify(data)}`);
  }
  return data;
}

function range(data: unknown, least: number, most: number, at: string): readonly [number, number] {
  if (data === undefined) return [least, most];
  const [low, high] = list(data, at);
  return [number(low, least, most, at), number(high, least, most, at)];
}

function oneOf<T extends string>(data: unknown, choices: readonly T[], at: string): T {
  const found = choices.find((choice) => choice === data);
  if (found === undefined) throw new Misread(`${at} must be one of ${choices.join(', ')}`);
  return found;
}
