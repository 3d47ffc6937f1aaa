import { barLength, COMMON_TIME, type Metre } from '../units/index.ts';
import { groupBars } from './bars.ts';
import { LIMITS, METRE_UNITS } from './data.ts';
import { quote, reporter, type Reporter } from './problems.ts';
import type { RawBar, ReadBar } from './raw-bar.ts';
import { reportStructure } from './roadmap.ts';
import { readStructure, type Structure } from './structure.ts';
import { emptySlots, simileSlots, symbolReader, writtenSlots } from './slots.ts';
import { tokenize } from './tokens.ts';
import type { Bar, Chart, Sign, Slot } from './types.ts';

/**
 * Reads a typed chart. Total on any text and linear in its length; nothing typed is lost, since the
 * chart carries its text. How a chart is typed stands at the top of `data.ts`.
 * @param text a lead sheet
 * @returns bars with their chords, and every problem with its place and its remedy; a symbol that
 *   cannot be read is a gap in its bar, and the rest plays
 */
export function readChart(text: string): Chart {
  const report = reporter(text);
  const raws = groupBars(text, tokenize(text), report);
  if (raws.length === 0) {
    report.warning(
      { from: 0, to: text.length },
      'There are no chords yet',
      'Type chords with bar lines between them, e.g. Dm7 | G7 | Cmaj7 |',
    );
  }
  const read = layOut(text, raws, report);
  const bars = read.map(({ bar }) => bar);
  const structure = readStructure(bars);
  reportStructure(read, structure, report);
  return { text, bars: withEndingTimes(bars, structure), problems: report.problems() };
}

/** `bars` with the number of times that endings ask for at each `:|` they end with. */
function withEndingTimes(bars: readonly Bar[], { stretches }: Structure): readonly Bar[] {
  const out = [...bars];
  for (const { endings, times } of stretches)
    for (const { to } of endings) if (bars[to]!.repeatEnd > 0) out[to] = { ...bars[to]!, repeatEnd: times };
  return out;
}

/** Which part of what its tokens say a bar takes: the first of two simile bars the head, the second the end. */
type Share = 'whole' | 'head' | 'end';

function layOut(text: string, raws: readonly RawBar[], report: Reporter): ReadBar[] {
  const chordAt = symbolReader(text, report);
  const endings = endingExtents(raws, report);
  const out: ReadBar[] = [];
  let metre = COMMON_TIME;
  for (const [index, raw] of raws.entries()) {
    if (raw.metre) metre = metreOf(raw.metre, metre, text, report);
    const add = (slots: readonly Slot[], share: Share) =>
      out.push({ raw, bar: barOf(raw, out.length, metre, slots, endings[index]!, share, report) });
    const before = out.at(-1)?.bar.slots.at(-1) ?? null;
    if (raw.simile === 1) add(simileSlots(raw, [out.at(-1)?.bar], metre, report)[0]!, 'whole');
    else if (raw.simile === 2) {
      const [first, second] = simileSlots(raw, [out.at(-2)?.bar, out.at(-1)?.bar], metre, report);
      add(first!, 'head');
      add(second!, 'end');
    } else if (raw.items.length === 0) add(emptySlots(raw, metre, before, report), 'whole');
    else add(writtenSlots(raw, metre, before, chordAt, report), 'whole');
  }
  return out;
}

function barOf(
  raw: RawBar,
  index: number,
  metre: Metre,
  slots: readonly Slot[],
  ending: readonly number[] | null,
  share: Share,
  report: Reporter,
): Bar {
  const head = share !== 'end';
  const end = share !== 'head';
  return {
    index,
    from: raw.from,
    to: raw.to,
    metre,
    length: barLength(metre),
    slots,
    simile: raw.simile,
    mark: head && raw.marks.length > 0 ? raw.marks.map((mark) => mark.text).join(' ') : null,
    repeatStart: head && raw.repeatStart !== null,
    repeatEnd: end && raw.repeatEnd ? timesOf(raw, ending, report) : 0,
    ending,
    endingStart: head && ending !== null && raw.ending !== null,
    signs: signsOf(raw, head, end),
    note: head && raw.notes.length > 0 ? raw.notes.join(' ') : null,
    newMetre: head && raw.metre !== null,
    doubleEnd: end && raw.doubleEnd,
  };
}

const NO_SIGNS: readonly Sign[] = Object.freeze([]);

/** The signs of a bar: those at its head first, then those at its end. */
function signsOf({ signs }: RawBar, head: boolean, end: boolean): readonly Sign[] {
  if (signs.length === 0) return NO_SIGNS;
  const at = (where: 'start' | 'end') => signs.filter(({ place }) => place === where).map(({ sign }) => sign);
  return [...(head ? at('start') : []), ...(end ? at('end') : [])];
}

/**
 * Over how many bars each ending lies: up to its `:|`, the next ending or the next section. The last
 * one is open on paper; it is taken to be as long as the longest before it (our choice: it is only
 * drawn so, playing runs on).
 */
function endingExtents(raws: readonly RawBar[], report: Reporter): (readonly number[] | null)[] {
  const out: (readonly number[] | null)[] = raws.map(() => null);
  let longest = 0;
  let groupEnd = -1;
  for (let index = 0; index < raws.length; index++) {
    const ending = raws[index]!.ending;
    if (!ending) continue;
    const passes = ending.passes.filter((pass) => pass >= 1 && pass <= LIMITS.times);
    if (passes.length < ending.passes.length)
      report.error(
        ending,
        `Endings are numbered from 1 to ${LIMITS.times}`,
        'Write 1. for the first time, 2. for the second.',
      );
    if (passes.length === 0) continue;
    if (groupEnd !== index - 1) longest = 0;
    let end = index;
    let double = -1;
    const closes = (at: number) => raws[at]!.repeatEnd !== null;
    const stops = (at: number) => {
      const raw = raws[at];
      return !raw || raw.ending !== null || raw.repeatStart !== null || raw.marks.length > 0;
    };
    while (!closes(end) && !stops(end + 1)) {
      if (raws[end]!.doubleEnd && double < 0) double = end;
      end++;
    }
    if (!closes(end) && !raws[end + 1]?.ending) {
      if (double >= 0) end = double;
      if (longest > 0) end = Math.min(end, index + longest - 1);
    }
    for (let at = index; at <= end; at++) out[at] = passes;
    longest = Math.max(longest, end - index + 1);
    groupEnd = end;
    index = end;
  }
  return out;
}

function timesOf(raw: RawBar, ending: readonly number[] | null, report: Reporter): number {
  const { times } = raw;
  if (!times) return 2;
  if (ending !== null) {
    report.warning(times, 'Endings say themselves how often the stretch is played', 'Leave the number out.');
    return 2;
  }
  if (times.count >= 1 && times.count <= LIMITS.times) return times.count;
  report.error(
    times,
    `A repeat is played 1 to ${LIMITS.times} times, not ${times.count}`,
    'Write the number of times in all, e.g. 3x.',
  );
  return times.count > LIMITS.times ? LIMITS.times : 2;
}

function metreOf(token: NonNullable<RawBar['metre']>, before: Metre, text: string, report: Reporter): Metre {
  const { count, unit } = token;
  const typed = quote(text.slice(token.from, token.to));
  const known = METRE_UNITS.includes(unit);
  if (known && count >= 1 && count <= LIMITS.metreCount) return { count, unit: unit as Metre['unit'] };
  const message =
    count === 0
      ? `A bar of ${typed} has no beats`
      : known
        ? `A bar of ${typed} has more than ${LIMITS.metreCount} beats`
        : `The lower number of ${typed} is no note value`;
  report.error(
    token,
    message,
    `The bars stay in ${before.count}/${before.unit}. The lower number is 1, 2, 4, 8 or 16, e.g. 3/4, 4/4, 6/8.`,
  );
  return before;
}
