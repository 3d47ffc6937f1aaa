import {
  barLength,
  COMMON_TIME,
  PPQ,
  ticks,
  type HomeKey,
  type Metre,
  type Ticks,
} from '../../engine/index.ts';
import { keyOfFifths } from '../key.ts';
import { readSymbol, type ReadSymbol } from './chord.ts';
import { signsIn, type FoundSigns } from './directions.ts';
import { child, numberOf, textOf, type Node } from './tree.ts';

/** A chord where it begins in its bar. */
export interface PlacedSymbol extends ReadSymbol {
  readonly at: number;
}

/** A bar of a document. */
export interface SheetBar {
  /** As the document numbers it, for a message. */
  readonly name: string;
  readonly metre: Metre;
  readonly length: Ticks;
  readonly symbols: readonly PlacedSymbol[];
  readonly signs: FoundSigns;
  readonly repeatStart: boolean;
  /** How often it is played in all; 0 when no repeat ends here. */
  readonly repeatEnd: number;
  readonly ending: readonly number[] | null;
  readonly doubleEnd: boolean;
  /** The bars a simile mark stands for, where one lies over this bar. */
  readonly simile: 0 | 1 | 2;
  /** True for a bar that is not counted: a pickup. */
  readonly uncounted: boolean;
  /** What of it was not understood. */
  readonly missed: readonly string[];
}

/** What a part says, bar by bar. */
export interface SheetPart {
  readonly bars: readonly SheetBar[];
  readonly key: HomeKey | null;
  readonly tempo: number | null;
  readonly transposes: boolean;
}

/** More bars are not read: a form is no longer. */
const MOST_BARS = 4000;

/** Reads a part's measures. */
export function readPart(measures: readonly Node[]): SheetPart {
  const reader = new PartReader();
  const bars = measures
    .slice(0, MOST_BARS)
    .map((measure, index) => reader.read(measure, index, index === measures.length - 1));
  const { key, tempo, transposes } = reader;
  return { bars, key, tempo, transposes };
}

class PartReader {
  key: HomeKey | null = null;
  tempo: number | null = null;
  transposes = false;
  #divisions = 1;
  #metre: Metre = COMMON_TIME;
  #simile: 0 | 1 | 2 = 0;

  read(measure: Node, index: number, last: boolean): SheetBar {
    const missed: string[] = [];
    const symbols: PlacedSymbol[] = [];
    let cursor = 0;
    let end = 0;
    for (const node of measure.children) {
      if (node.name === 'attributes') this.#attributes(node, missed);
      else if (node.name === 'harmony') {
        const offset = numberOf(node, 'offset') ?? 0;
        const placed = this.#symbol(node, cursor + offset * this.#tick, missed);
        const other = placed && symbols.find(({ at }) => at === placed.at);
        if (other) missed.push(`${placed.text} stands at the place of ${other.text} and was left out`);
        else if (placed !== null) symbols.push(placed);
      } else if (node.name === 'note' && !child(node, 'chord') && !child(node, 'grace')) {
        cursor += this.#lasts(node);
      } else if (node.name === 'forward') cursor += this.#lasts(node);
      else if (node.name === 'backup') cursor = Math.max(0, cursor - this.#lasts(node));
      end = Math.max(end, cursor);
    }
    const signs = signsIn(measure);
    this.tempo ??= signs.tempo;
    missed.push(...signs.missed);
    const uncounted = measure.attributes['implicit'] === 'yes';
    return {
      name: (measure.attributes['number'] || String(index + 1)).slice(0, 12),
      metre: this.#metre,
      length: uncounted && end > 0 ? ticks(Math.round(end)) : barLength(this.#metre),
      symbols,
      signs,
      ...barlinesOf(measure, last),
      simile: this.#simile,
      uncounted,
      missed,
    };
  }

  get #tick(): number {
    return PPQ / this.#divisions;
  }

  #lasts(node: Node): number {
    return Math.max(0, numberOf(node, 'duration') ?? 0) * this.#tick;
  }

  #symbol(node: Node, at: number, missed: string[]): PlacedSymbol | null {
    if (node.attributes['type'] === 'alternate') {
      missed.push('a second chord symbol, to be played instead, was left out');
      return null;
    }
    const read = readSymbol(node);
    if (typeof read === 'string') {
      missed.push(`${read} was left out`);
      return null;
    }
    if (read.missed !== null) missed.push(read.missed);
    return { ...read, at: Math.max(0, Math.round(at)) };
  }

  #attributes(node: Node, missed: string[]): void {
    const divisions = numberOf(node, 'divisions');
    if (divisions !== null && divisions > 0) this.#divisions = divisions;
    const key = child(node, 'key');
    if (key && this.key === null) {
      const fifths = numberOf(key, 'fifths');
      const mode = textOf(key, 'mode');
      if (fifths !== null && (mode === null || mode === 'major' || mode === 'minor')) {
        // A signature of no sharps and flats without a mode is what programs write when nothing was chosen.
        this.key = fifths === 0 && mode === null ? null : keyOfFifths(fifths, mode ?? 'major');
      }
    }
    if (child(node, 'transpose')) this.transposes = true;
    const time = child(node, 'time');
    if (time) this.#time(time, missed);
    for (const style of node.children) {
      const repeat = style.name === 'measure-style' ? child(style, 'measure-repeat') : undefined;
      if (repeat?.attributes['type'] === 'stop') this.#simile = 0;
      if (repeat?.attributes['type'] === 'start') this.#simile = repeat.text === '2' ? 2 : 1;
      if (repeat && Number(repeat.text || 1) > 2) {
        this.#simile = 0;
        missed.push('a simile mark for more than two bars was written out');
      }
    }
  }

  #time(time: Node, missed: string[]): void {
    const beats = (textOf(time, 'beats') ?? '').split('+').map(Number);
    const count = beats.reduce((sum, beat) => sum + beat, 0);
    const unit = numberOf(time, 'beat-type') ?? 0;
    const whole = time.children.filter(({ name }) => name === 'beats').length === 1;
    if (whole && Number.isInteger(count) && count >= 1 && count <= 32 && [1, 2, 4, 8, 16].includes(unit)) {
      this.#metre = { count, unit: unit as Metre['unit'] };
      return;
    }
    const { count: beat, unit: value } = this.#metre;
    missed.push(`its metre is not one a chart can have; the bars stay in ${beat}/${value}`);
  }
}

type Barlines = Pick<SheetBar, 'repeatStart' | 'repeatEnd' | 'ending' | 'doubleEnd'>;

function barlinesOf(measure: Node, last: boolean): Barlines {
  let lines: Barlines = { repeatStart: false, repeatEnd: 0, ending: null, doubleEnd: false };
  for (const line of measure.children.filter(({ name }) => name === 'barline')) {
    const repeat = child(line, 'repeat');
    if (repeat?.attributes['direction'] === 'forward') lines = { ...lines, repeatStart: true };
    if (repeat?.attributes['direction'] === 'backward') {
      const times = Math.round(Number(repeat.attributes['times'] ?? 2));
      lines = { ...lines, repeatEnd: times >= 1 && times <= 99 ? times : 2 };
    }
    const ending = child(line, 'ending');
    if (ending?.attributes['type'] === 'start') {
      const passes = (ending.attributes['number'] ?? '').match(/\d{1,2}/g)?.map(Number) ?? [];
      const known = passes.filter((pass) => pass > 0).slice(0, 16);
      if (known.length > 0) lines = { ...lines, ending: known };
    }
    const style = textOf(line, 'bar-style');
    // The thin and the thick line end every piece; within it they end a section.
    if (style === 'light-light' || (style === 'light-heavy' && !last && !repeat)) {
      if (line.attributes['location'] !== 'left') lines = { ...lines, doubleEnd: true };
    }
  }
  return lines;
}
