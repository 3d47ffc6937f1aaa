import {
  beatLength,
  metreName,
  PPQ,
  printChart,
  readChart,
  type Metre,
  type Sign,
} from '../../engine/index.ts';
import { JUMPS } from './bars.ts';
import type { PlacedSymbol, SheetBar } from './part.ts';

/** A chart's text, and what had to be changed for it, by the bar as the document names it. */
export interface ChartText {
  readonly text: string;
  readonly changes: readonly { readonly bar: string; readonly message: string }[];
}

/**
 * The bars of a document as a chart types them, in its usual form.
 * @param exact true where chords stand exactly as a chart of ours had them. In any other document one
 *   that stands between two beats is moved to the nearer, and bars without chords are closed up
 */
export function chartText(bars: readonly SheetBar[], exact: boolean): ChartText {
  const changes: { bar: string; message: string }[] = [];
  const lines: string[] = [];
  let metre = '4/4';
  /** The chord that sounds at the end of the bar before, and whether it filled that bar. */
  let sounding: { text: string; filled: boolean } | null = null;
  let simileLeft = 0;
  for (const [index, bar] of bars.entries()) {
    const written = metreName(writtenMetre(bar));
    const head = [
      bar.ending === null ? '' : `${bar.ending.join(',')}.`,
      written === metre ? '' : written,
      ...bar.signs.signs.filter(isHead).map(signText),
      ...bar.signs.words.map((words) => `"${words}"`),
    ];
    metre = written;
    let content: string;
    if (simileLeft > 0) {
      simileLeft--;
      content = '';
    } else if (bar.simile === 2 && bars[index + 1]?.simile === 2) {
      content = '%%';
      simileLeft = 1;
    } else if (bar.simile > 0) content = '%';
    else {
      const before: string | null = sounding?.text ?? null;
      if (bar.symbols.length === 0 && !exact) {
        content =
          before === null
            ? 'N.C.'
            : sounding!.filled
              ? '%'
              : beatsText([{ at: 0, text: '/' }], bar, exact).text;
      } else {
        const { text, moved } = beatsText(startsOf(bar, before, exact), bar, exact);
        content = text;
        if (moved !== null) changes.push({ bar: bar.name, message: moved });
      }
      const last = bar.symbols.at(-1);
      if (last)
        sounding = { text: shown(last), filled: bar.symbols.length === 1 && bar.symbols[0]!.at === 0 };
      else if (before === null && !exact) sounding = { text: 'N.C.', filled: true };
    }
    // The second of two bars under one mark has no text of its own; what stands at its end is put behind the mark.
    const end = endOf(bar);
    if (content === '') lines[lines.length - 1] = `${lines.at(-1)!.replace(/ \|$/, '')} ${end}`;
    else {
      const mark = bar.signs.mark === null ? '' : `[${bar.signs.mark}] `;
      const opening = bar.repeatStart ? '|: ' : '| ';
      lines.push(
        `${mark}${opening}${[...head, content].filter(Boolean).join(' ')} ${simileLeft > 0 ? '|' : end}`,
      );
    }
  }
  return { text: printChart(readChart(lines.join('\n'))), changes };
}

/** A pickup's metre is as long as the bar is, where a chart can say so. */
function writtenMetre({ metre, length, uncounted }: SheetBar): Metre {
  if (!uncounted) return metre;
  for (const unit of [4, 8, 16] as const) {
    const count = (length * unit) / (4 * PPQ);
    if (Number.isInteger(count) && count >= 1 && count <= 32) return { count, unit };
  }
  return metre;
}

const isHead = (sign: Sign): boolean => sign === 'segno' || sign === 'coda';
const signText = (sign: Sign): string => JUMPS[sign]?.[0] ?? (sign === 'segno' ? 'Segno' : 'Coda');

function endOf({ signs, repeatEnd, ending, doubleEnd }: SheetBar): string {
  const sent = signs.signs.filter((sign) => !isHead(sign)).map(signText);
  const line = `${repeatEnd > 0 ? ':' : ''}${doubleEnd ? '||' : '|'}`;
  const times = repeatEnd === 0 || repeatEnd === 2 || ending !== null ? '' : `${repeatEnd}x`;
  return [...sent, line, times].filter(Boolean).join(' ');
}

/** Something that begins in a bar, as it is typed; "/" holds what sounded before. */
interface Start {
  readonly at: number;
  readonly text: string;
}

const shown = ({ text, optional }: PlacedSymbol): string => (optional ? `(${text})` : text);

/** What begins in a bar and where, from its first tick on, each place once. */
function startsOf(bar: SheetBar, before: string | null, exact: boolean): Start[] {
  const starts: Start[] = [];
  for (const symbol of bar.symbols.toSorted((a, b) => a.at - b.at)) {
    const at = Math.min(symbol.at, bar.length - 1);
    if (starts.at(-1)?.at !== at) starts.push({ at, text: shown(symbol) });
  }
  if (starts[0]?.at === 0) return starts;
  return [{ at: 0, text: before === null && !exact ? 'N.C.' : '/' }, ...starts];
}

/** More shares than this a bar is not divided into. */
const MOST_SHARES = 64;

function beatsText(
  starts: readonly Start[],
  bar: SheetBar,
  exact: boolean,
): { text: string; moved: string | null } {
  const { length } = bar;
  const beat = beatLength(writtenMetre(bar));
  const beats = length / beat;
  const holds = starts.some(({ text }) => text === '/');
  const shared = (shares: number, count: number) => Math.floor((count * length) / shares);
  if (!holds && starts.every(({ at }, index) => at === shared(starts.length, index))) {
    return { text: starts.map(({ text }) => text).join(' '), moved: null };
  }
  const inShares = (shares: number): string | null => {
    const places = starts.map(({ at }) => Math.ceil((at * shares) / length));
    if (!places.every((place, index) => shared(shares, place) === starts[index]!.at)) return null;
    return starts
      .map(({ text }, index) => {
        const weight = (places[index + 1] ?? shares) - places[index]!;
        return [text, ...Array.from({ length: weight - 1 }, () => '/')].join(' ');
      })
      .join(' ');
  };
  const onBeats = inShares(beats);
  if (onBeats !== null) return { text: onBeats, moved: null };
  if (!exact) {
    const near = starts.map(({ at, text }) => ({
      at: Math.min(Math.round(at / beat), beats - 1) * beat,
      text,
    }));
    const apart = near.every(({ at }, index) => index === 0 || at > near[index - 1]!.at);
    const moved = starts.find(({ at }, index) => at !== near[index]!.at)!;
    if (apart) {
      const to = near[starts.indexOf(moved)]!.at / beat + 1;
      const { text } = beatsText(near, bar, true);
      return { text, moved: `${moved.text} stands between two beats; it was moved to beat ${to}` };
    }
  }
  for (let shares = Math.ceil(beats) + 1; shares <= MOST_SHARES; shares++) {
    const text = inShares(shares);
    if (text !== null) return { text, moved: null };
  }
  return {
    text: starts.map(({ text }) => (text === '/' ? 'N.C.' : text)).join(' '),
    moved: 'its chords stand where a chart cannot say; they share the bar evenly',
  };
}
