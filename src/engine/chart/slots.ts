import { readChord, type Chord, type ChordProblem } from '../harmony/index.ts';
import { barLength, beatsInBar, PPQ, ticks, type Metre, type Result, type Ticks } from '../units/index.ts';
import { LIMITS, STRAY } from './data.ts';
import { holdsBefore, type Item, type RawBar } from './raw-bar.ts';
import { quote, type Place, type Reporter } from './problems.ts';
import type { Bar, Slot } from './types.ts';

/** Reads the symbols of one chart; a symbol that comes again is read once. */
export function symbolReader(text: string, report: Reporter): (item: Place) => Chord | null {
  const known = new Map<string, Result<Chord, ChordProblem>>();
  return (item) => {
    const symbol = text.slice(item.from, item.to);
    if (symbol.length > LIMITS.symbol) {
      report.error(
        item,
        `${quote(symbol)} is too long for a chord symbol`,
        'Leave spaces between chords; write words in double quotes.',
      );
      return null;
    }
    const stray = STRAY.get(symbol);
    if (stray !== undefined) {
      report.error(item, `${quote(symbol)} is no chord`, stray);
      return null;
    }
    const read = known.get(symbol) ?? readChord(symbol);
    known.set(symbol, read);
    if (read.ok) return read.value;
    const { from, to, message, remedy } = read.error;
    const place = from < to ? { from: item.from + from, to: item.from + to } : item;
    report.error(place, `${quote(symbol)}: ${message}`, remedyFor(symbol, remedy));
    return null;
  };
}

function remedyFor(symbol: string, near: string | null): string {
  if (/^\d{1,2}$/.test(symbol)) return `An ending is written with a dot: ${symbol}.`;
  const guess = near === null ? '' : near.charAt(0).toUpperCase() + near.slice(1);
  const words = /^\p{L}{2,}[,.!?]?$/u.test(symbol) ? `Words stand in double quotes: "${symbol}".` : '';
  return [guess, words].filter(Boolean).join(' ') || 'Write a chord symbol, or N.C. for no chord.';
}

type Sound = Omit<Slot, 'at' | 'length'>;

const GAP: Pick<Slot, 'chord' | 'silence' | 'optional'> = { chord: null, silence: 'gap', optional: false };

/**
 * The slots of a bar written out. Without slashes its items share it evenly; with slashes each item and
 * each slash is one felt beat, the last item rings on when beats are left, and too many are squeezed in
 * proportion. An item that holds the chord before carries the offsets of the symbol it holds.
 */
export function writtenSlots(
  raw: RawBar,
  metre: Metre,
  before: Slot | null,
  chordAt: (item: Place) => Chord | null,
  report: Reporter,
): Slot[] {
  const length = barLength(metre);
  const beats = beatsInBar(metre);
  const items = withinReach(raw, length, report);
  const total = items.reduce((sum, item) => sum + item.weight, 0);
  let shares = total;
  if (raw.slashed && total < beats) {
    shares = beats;
    report.warning(
      raw,
      `${count(total, 'beat')} in a bar of ${beats}`,
      'The last chord is held to the end of the bar; write / for each beat it lasts.',
    );
  } else if (raw.slashed && total > beats) {
    report.error(
      raw,
      `${count(total, 'beat')} in a bar of ${beats}`,
      `They are squeezed into the bar. Leave out ${count(total - beats, 'slash', 'slashes')}, or write a bar line between them.`,
    );
  } else if (!raw.slashed && total > Math.max(metre.count, length / PPQ)) {
    report.warning(
      raw,
      `${total} chords share a bar of ${beats} beats`,
      'Is a bar line | missing between them?',
    );
  }

  const slots: Slot[] = [];
  let weight = 0;
  for (const item of items) {
    const at = ticks(Math.floor((weight * length) / shares));
    weight += item.weight;
    const last = item === items.at(-1);
    const end = last ? length : ticks(Math.floor((weight * length) / shares));
    const previous = slots.at(-1);
    const held = holdsBefore(item);
    if (held && previous) slots[slots.length - 1] = { ...previous, length: ticks(end - previous.at) };
    else
      slots.push({
        at,
        length: ticks(end - at),
        ...(held ? hold(item, before, report) : sound(item, chordAt)),
      });
    if (held && item.kind !== 'hold')
      report.warning(
        item,
        'A simile mark stands among other signs',
        'It stands alone in its bar; use / to hold a chord for a beat.',
      );
  }
  return slots;
}

/** A bar takes at most a chord each sixteenth; the rest is not played. */
function withinReach(raw: RawBar, length: Ticks, report: Reporter): readonly Item[] {
  const most = Math.max(1, Math.floor(length / (PPQ / 4)));
  if (raw.items.length <= most) return raw.items;
  report.error(
    { from: raw.items[most]!.from, to: raw.to },
    `${raw.items.length} chords in one bar; from here on they are not played`,
    'Write a bar line | between bars.',
  );
  return raw.items.slice(0, most);
}

function sound(item: Item, chordAt: (item: Place) => Chord | null): Sound {
  const { from, to, optional } = item;
  if (item.kind === 'no-chord') return { chord: null, silence: 'no-chord', optional, from, to };
  const chord = chordAt(item);
  return chord ? { chord, silence: null, optional, from, to } : { ...GAP, from, to };
}

function hold(item: Place, before: Slot | null, report: Reporter): Sound {
  if (before === null) {
    report.error(item, 'There is no chord to hold here', 'Write a chord first.');
    return { ...GAP, from: item.from, to: item.to };
  }
  const { chord, silence, optional, from, to } = before;
  return { chord, silence, optional, from, to };
}

/** A bar with nothing written in it: the chord before rings on. */
export function emptySlots(raw: RawBar, metre: Metre, before: Slot | null, report: Reporter): Slot[] {
  report.warning(
    raw,
    'This bar is empty',
    before
      ? 'The chord before rings on. Write a chord, % for the bar before, or N.C.'
      : 'Write a chord, or N.C. for no chord.',
  );
  const sound = before ?? { ...GAP, from: raw.from, to: raw.to };
  return [{ ...sound, at: ticks(0), length: barLength(metre) }];
}

/** The slots of the bars that a simile mark stands for: those of `sources` again, the bars before it. */
export function simileSlots(
  { items }: RawBar,
  sources: readonly (Bar | undefined)[],
  metre: Metre,
  report: Reporter,
): readonly (readonly Slot[])[] {
  const { from, to } = items[0]!;
  const length = barLength(metre);
  if (sources.includes(undefined)) {
    const missing = sources.length === 1 ? 'There is no bar before' : 'There are no two bars before';
    report.error({ from, to }, `${missing} to repeat`, 'Write the chords out.');
  } else if (sources.some((source) => source!.length !== length)) {
    report.warning({ from, to }, 'The bar it repeats has another length', 'Write the chords out.');
  }
  return sources.map((source) =>
    sources.includes(undefined)
      ? [{ ...GAP, at: ticks(0), length, from, to }]
      : source!.length === length
        ? source!.slots
        : fitted(source!.slots, length),
  );
}

/** `slots` in a bar of `length`: cut off, or the last one held. */
function fitted(slots: readonly Slot[], length: Ticks): Slot[] {
  const kept = slots.filter(({ at }) => at < length);
  return kept.map((slot, index) => ({
    ...slot,
    length: ticks((index === kept.length - 1 ? length : kept[index + 1]!.at) - slot.at),
  }));
}

const count = (number: number, one: string, many = `${one}s`) => `${number} ${number === 1 ? one : many}`;
