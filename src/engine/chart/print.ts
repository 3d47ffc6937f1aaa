import { metreName } from '../units/index.ts';
import { SIGNS } from './data.ts';
import { rawBars } from './items.ts';
import type { RawBar } from './raw-bar.ts';
import type { Bar, Chart } from './types.ts';

/** Bars in a line. Our choice, as most lead sheets have it. */
const LINE = 4;

/** A bar, or the two bars of a two-bar simile mark, as its pieces of text. */
interface Cell {
  readonly mark: string;
  /** Ending, metre, signs and words at its head, each with a space after it. */
  readonly head: string;
  readonly content: string;
  /** Signs at its end, each with a space after it. */
  readonly tail: string;
  readonly starts: boolean;
  readonly ends: boolean;
  readonly double: boolean;
  readonly times: string;
  readonly bars: 1 | 2;
}

/**
 * A chart as text in one consistent form: a bar line at both ends of every line, four bars in a line,
 * a new line at each rehearsal mark and after each double bar. Chord symbols stay as typed; what
 * belongs to no bar is left out. Reading the text again gives the same bars.
 */
export function printChart(chart: Chart): string {
  const raws = rawBars(chart);
  const cells = chart.bars.flatMap((bar, index) => {
    const raw = raws[index]!;
    return raw === raws[index - 1] ? [] : [cellOf(chart, bar, raw)];
  });
  const lines: Cell[][] = [];
  let room = 0;
  for (const cell of cells) {
    if (room <= 0 || cell.mark !== '') {
      lines.push([]);
      room = LINE;
    }
    lines.at(-1)!.push(cell);
    room = cell.double ? 0 : room - cell.bars;
  }
  return lines.map(printLine).join('\n');
}

function printLine(cells: readonly Cell[]): string {
  let line = '';
  for (const [index, cell] of cells.entries()) {
    const { mark, head, content, tail, starts } = cell;
    if (ownLine(cells, index)) {
      // Before an empty bar everything at its head stands in front of its bar line, so that nothing is in it.
      const opening = starts ? '|: ' : '| ';
      line += mark + (content === '' ? head + opening : opening + head);
    } else line += head;
    if (content !== '') line += `${content} ${tail}`;
    line += `${cell.ends ? ':' : ''}${cell.double ? '||' : '|'}`;
    if (cell.times !== '') line += ` ${cell.times}`;
    if (content === '' && tail !== '') line += ` ${tail}`;
    const next = cells[index + 1];
    if (next) line += next.starts && !ownLine(cells, index + 1) ? ': ' : ' ';
  }
  return line.trimEnd();
}

/** True when the bar line before a cell cannot be the one that ends the cell before it. */
function ownLine(cells: readonly Cell[], index: number): boolean {
  const cell = cells[index]!;
  const before = cells[index - 1];
  if (!before) return true;
  const parted = before.times !== '' || (before.content === '' && before.tail !== '');
  return parted || (cell.content === '' && cell.head !== '');
}

function cellOf(chart: Chart, bar: Bar, raw: RawBar): Cell {
  const last = bar.simile === 2 ? (chart.bars[bar.index + 1] ?? bar) : bar;
  const { repeatEnd } = last;
  return {
    mark: bar.mark === null ? '' : `[${bar.mark}] `,
    head: headOf(bar),
    content: contentOf(chart, bar, raw),
    tail: signsOf(last, 'end'),
    starts: bar.repeatStart,
    ends: repeatEnd > 0,
    double: last.doubleEnd,
    times: repeatEnd === 0 || repeatEnd === 2 || last.ending !== null ? '' : `${repeatEnd}x`,
    bars: bar.simile === 2 ? 2 : 1,
  };
}

function headOf(bar: Bar): string {
  const ending = bar.endingStart && bar.ending ? `${passesText(bar.ending)} ` : '';
  const metre = bar.newMetre ? `${metreName(bar.metre)} ` : '';
  const note = bar.note === null ? '' : `"${bar.note}" `;
  return ending + metre + signsOf(bar, 'start') + note;
}

function signsOf({ signs }: Bar, place: 'start' | 'end'): string {
  return signs
    .flatMap((sign) => SIGNS.filter((spelling) => spelling.sign === sign && spelling.place === place))
    .map(({ text }) => `${text} `)
    .join('');
}

/** [1, 2] → "1,2."; [1, 2, 3] → "1-3." */
export function passesText(passes: readonly number[]): string {
  const runs: [first: number, last: number][] = [];
  for (const pass of passes) {
    const run = runs.at(-1);
    if (run && run[1] === pass - 1) run[1] = pass;
    else runs.push([pass, pass]);
  }
  const text = runs.map(([first, last]) =>
    first === last ? `${first}` : `${first}${last === first + 1 ? ',' : '-'}${last}`,
  );
  return `${text.join(',')}.`;
}

function contentOf(chart: Chart, bar: Bar, { items }: RawBar): string {
  const optional = new Set(bar.slots.filter((slot) => slot.optional).map(({ from }) => from));
  return items
    .map(({ kind, from, to, weight }) => {
      if (kind === 'hold') return slashes(weight);
      if (kind === 'simile') return '%';
      if (kind === 'double-simile') return '%%';
      const symbol = kind === 'no-chord' ? 'N.C.' : chart.text.slice(from, to);
      const shown = optional.has(from) ? `(${symbol})` : symbol;
      return weight > 1 ? `${shown} ${slashes(weight - 1)}` : shown;
    })
    .join(' ');
}

/** "/ / /" */
export const slashes = (count: number) => Array.from({ length: count }, () => '/').join(' ');
