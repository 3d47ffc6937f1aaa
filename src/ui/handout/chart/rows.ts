import { beatLength, ticks, type Bar, type PlacedHit } from '../../../engine/index.ts';
import type { WrittenStretch } from './stretches.ts';

/** Bars to a row: common practice in lead sheets. */
const BARS = 4;
/** Lengths in px. */
const LEAD = { bar: 9, repeat: 17, metre: 19 };
const TAIL = { bar: 5, repeat: 14 };

/** A chord, or what stands in its place, where it is written. */
export interface PlacedChord {
  readonly x: number;
  readonly room: number;
  /** Index into the bar's slots. */
  readonly slot: number;
}

export interface PlacedBar {
  readonly bar: Bar;
  readonly x: number;
  readonly width: number;
  /** Where its music begins: after the bar line, a metre, the dots of a repeat. */
  readonly begin: number;
  readonly chords: readonly PlacedChord[];
  /** Beats that hold the chord of the bar before. */
  readonly slashes: readonly number[];
  /** Felt beats, where there is more in the bar than one chord throughout. */
  readonly beats: readonly number[];
  readonly metre: boolean;
  /** What stands at its end. */
  readonly end: 'line' | 'double' | 'repeat' | 'final';
  readonly ending: {
    readonly passes: readonly number[];
    readonly opens: boolean;
    readonly closes: boolean;
  } | null;
}

/** Something said of a stretch, drawn from `x1` to `x2`; open where it goes on in another row. */
export interface Bracket {
  readonly x1: number;
  readonly x2: number;
  readonly word: string;
  readonly opens: boolean;
  readonly closes: boolean;
}

export interface PlacedSign {
  readonly x: number;
  readonly hit: PlacedHit;
}

/** A row of bars and what stands above and beneath it. */
export interface Row {
  readonly bars: readonly PlacedBar[];
  readonly width: number;
  readonly coloured: readonly Bracket[];
  readonly looped: readonly Bracket[];
  readonly hits: readonly PlacedSign[];
}

export interface OnChart {
  readonly coloured: readonly WrittenStretch[];
  readonly looped: readonly WrittenStretch[];
  readonly hits: readonly PlacedHit[];
}

/** The bars as written in rows of four; a rehearsal mark begins a row. */
export function rowsOf(bars: readonly Bar[], on: OnChart, width: number): readonly Row[] {
  const usual = usualLength(bars);
  return inRows(bars).map((row) => {
    const length = Math.max(
      BARS * usual,
      row.reduce((sum, bar) => sum + bar.length, 0),
    );
    let x = 0;
    const placed = row.map((bar) => {
      const own = (bar.length / length) * width;
      const there = placeBar(bar, bars, on, x, own);
      x += own;
      return there;
    });
    return {
      bars: placed,
      width: x,
      coloured: bracketsIn(placed, bars, on.coloured),
      looped: bracketsIn(placed, bars, on.looped),
      hits: on.hits.flatMap((hit) => {
        const there = placed.find(({ bar }) => bar.index === hit.bar && hit.at < bar.length);
        return there === undefined ? [] : [{ hit, x: across(there, hit.at) }];
      }),
    };
  });
}

function inRows(bars: readonly Bar[]): readonly (readonly Bar[])[] {
  const rows: Bar[][] = [];
  for (const bar of bars) {
    const row = rows.at(-1);
    if (row === undefined || row.length === BARS || bar.mark !== null) rows.push([bar]);
    else row.push(bar);
  }
  return rows;
}

/** The length most bars have; of two the longer one. */
function usualLength(bars: readonly Bar[]): number {
  const counts = new Map<number, number>();
  for (const { length } of bars) counts.set(length, (counts.get(length) ?? 0) + 1);
  return [...counts].reduce((most, each) => (each[1] > most[1] ? each : most), [1, 0])[0];
}

/** Where a tick of a bar stands. */
export function across(
  { bar, x, width, begin, end }: Pick<PlacedBar, 'bar' | 'x' | 'width' | 'begin' | 'end'>,
  at: number,
): number {
  const tail = end === 'repeat' ? TAIL.repeat : TAIL.bar;
  return begin + (at / bar.length) * (x + width - tail - begin);
}

function placeBar(bar: Bar, bars: readonly Bar[], on: OnChart, x: number, width: number): PlacedBar {
  const next = bars[bar.index + 1];
  const metre = bar.newMetre || bar.index === 0;
  const end = bar.repeatEnd > 0 ? 'repeat' : next === undefined ? 'final' : bar.doubleEnd ? 'double' : 'line';
  const begin = x + (bar.repeatStart ? LEAD.repeat : LEAD.bar) + (metre ? LEAD.metre : 0);
  const shape = { bar, x, width, begin, end } as const;
  const written =
    bar.simile > 0
      ? []
      : bar.slots.map((slot, index) => ({ slot, index })).filter(({ slot }) => isOwn(bar, slot));
  const firstAt = written[0]?.slot.at ?? bar.length;
  const beat = beatLength(bar.metre);
  const all = Array.from({ length: Math.ceil(bar.length / beat) }, (_, i) => i * beat);
  const parts = on.coloured.filter((stretch) => stretch.bar === bar.index);
  const isDivided =
    written.length > 1 || firstAt > 0 || parts.some(({ at, length }) => at > 0 || length < bar.length);
  return {
    ...shape,
    metre,
    chords: written.map(({ slot, index }, i) => {
      const from = across(shape, slot.at);
      const to = written[i + 1] ? across(shape, written[i + 1]!.slot.at) : x + width;
      return { x: from, room: to - from - 3, slot: index };
    }),
    slashes: bar.simile > 0 ? [] : all.filter((at) => at < firstAt).map((at) => across(shape, at)),
    beats: isDivided && bar.simile === 0 ? all.map((at) => across(shape, at)) : [],
    ending:
      bar.ending === null
        ? null
        : {
            passes: bar.ending,
            opens: bar.endingStart || bars[bar.index - 1]?.ending == null,
            closes: next?.ending == null || next.endingStart,
          },
  };
}

/** True where a chord is written in its own bar, and not held from one before. */
const isOwn = (bar: Bar, slot: Bar['slots'][number]): boolean => slot.from >= bar.from && slot.to <= bar.to;

function bracketsIn(
  placed: readonly PlacedBar[],
  bars: readonly Bar[],
  stretches: readonly WrittenStretch[],
): readonly Bracket[] {
  const inOrder = stretches.toSorted((a, b) => a.bar - b.bar || a.at - b.at);
  const isAcross = (a: WrittenStretch | undefined, b: WrittenStretch | undefined): boolean =>
    a !== undefined &&
    b !== undefined &&
    a.thing === b.thing &&
    ((a.bar === b.bar && a.at + a.length === b.at) ||
      (b.bar === a.bar + 1 && b.at === 0 && a.at + a.length === bars[a.bar]!.length));
  const brackets: Bracket[] = [];
  for (const [i, stretch] of inOrder.entries()) {
    const there = placed.find(({ bar }) => bar.index === stretch.bar);
    if (there === undefined) continue;
    const before = isAcross(inOrder[i - 1], stretch);
    const x2 = across(there, stretch.at + stretch.length);
    const closes = !isAcross(stretch, inOrder[i + 1]);
    const last = brackets.at(-1);
    if (before && last !== undefined) brackets[brackets.length - 1] = { ...last, x2, closes };
    else brackets.push({ x1: across(there, stretch.at), x2, word: stretch.word, opens: !before, closes });
  }
  return brackets;
}

/** A bar's hits in stop time. */
export const isStopTime = (bar: Bar, hits: readonly PlacedHit[]): boolean =>
  hits.some((hit) => hit.bar === bar.index && hit.stop && hit.at < ticks(bar.length));
