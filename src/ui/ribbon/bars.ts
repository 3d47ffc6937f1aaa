import { metreName, ticks, type Chord, type FormBar, type Slot, type Ticks } from '../../engine/index.ts';
import type { Sources } from './sources.ts';

/** A chord symbol where it stands in the ribbon. Ticks of the form. */
export interface ChordView {
  readonly start: Ticks;
  readonly length: Ticks;
  /** What is written where no chord can be read. */
  readonly text: string;
  readonly chord: Chord | null;
  readonly look: 'chord' | 'silent' | 'gap' | 'simile';
  readonly optional: boolean;
  /** Index of the written bar and of the slot in it, for the edit. */
  readonly bar: number;
  readonly slot: number;
  readonly problem: string | null;
}

export interface BarView {
  readonly index: number;
  readonly start: Ticks;
  readonly length: Ticks;
  readonly number: number;
  readonly mark: string | null;
  readonly note: string | null;
  readonly metre: string | null;
  /** Which time through a repeat, from the second on: "2nd time". */
  readonly pass: string | null;
  readonly doubleEnd: boolean;
  readonly chords: readonly ChordView[];
}

/** A bar of the form as the ribbon shows it. */
export function barView(sources: Sources, { bar, start, pass }: FormBar, index: number): BarView {
  const chords =
    bar.simile > 0
      ? [simile(bar.index, start, bar.length)]
      : bar.slots.map((slot, i) => chordView(sources, slot, start, bar.index, i));
  return {
    index,
    start,
    length: bar.length,
    number: index + 1,
    mark: bar.mark,
    note: bar.note,
    metre: bar.newMetre || index === 0 ? metreName(bar.metre) : null,
    pass: pass > 1 ? `${pass}${ordinal(pass)} time` : null,
    doubleEnd: bar.doubleEnd,
    chords,
  };
}

/** What stands at a place of the text, short enough to be shown. */
export function typedAt(text: string, { from, to }: { readonly from: number; readonly to: number }): string {
  return text.slice(from, Math.min(to, from + LONGEST));
}
const LONGEST = 16;

/** English ordinals: 2nd, 3rd, 4th, 11th, 22nd. */
function ordinal(number: number): string {
  const teen = number % 100 > 10 && number % 100 < 14;
  return teen ? 'th' : (['th', 'st', 'nd', 'rd'][number % 10] ?? 'th');
}

const simile = (bar: number, start: Ticks, length: Ticks): ChordView => ({
  start,
  length,
  text: '𝄎',
  chord: null,
  look: 'simile',
  optional: false,
  bar,
  slot: 0,
  problem: null,
});

function chordView(sources: Sources, slot: Slot, start: Ticks, bar: number, index: number): ChordView {
  const problem = sources.problems.find(({ from, to }) => from < slot.to && to > slot.from);
  const silent = slot.silence === 'no-chord';
  return {
    start: ticks(start + slot.at),
    length: slot.length,
    chord: slot.chord,
    text: slot.chord?.text ?? (silent ? 'N.C.' : typedAt(sources.text, slot)),
    look: slot.chord !== null ? 'chord' : silent ? 'silent' : 'gap',
    optional: slot.optional,
    bar,
    slot: index,
    problem: problem === undefined ? null : `${problem.message} ${problem.remedy}`,
  };
}
