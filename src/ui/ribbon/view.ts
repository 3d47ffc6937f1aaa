import {
  metreName,
  suggestScales,
  ticks,
  TREATMENTS,
  type Changes,
  type Chord,
  type Form,
  type FormBar,
  type PlacedTreatment,
  type Problem,
  type ScaleChoice,
  type Slot,
  type Span,
  type Ticks,
  type TreatmentKind,
} from '../../engine/index.ts';
import { noteWithSign, wordsWithSigns } from '../chord/symbol.ts';
import { beatsOfBar, indexAt, type Beat, type Line } from './layout.ts';

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
  /** Which time through a repeat, from 2 on; else null. */
  readonly pass: number | null;
  readonly repeatStart: boolean;
  readonly repeatEnd: boolean;
  readonly doubleEnd: boolean;
  readonly chords: readonly ChordView[];
}

/** A coloured stretch of the treatment lane. */
export interface TreatmentView {
  readonly start: Ticks;
  readonly length: Ticks;
  readonly kind: TreatmentKind;
  /** `written` where the symbol itself asks for the colour. */
  readonly origin: 'hand' | 'rule' | 'live' | 'written';
  /** False where it is placed but silent in this round. */
  readonly sounds: boolean;
  readonly word: string;
  readonly reason: string;
  /** The placed treatment it comes from; null for rules and live touches. */
  readonly id: string | null;
}

export interface ScaleView {
  readonly start: Ticks;
  readonly length: Ticks;
  readonly scale: ScaleChoice;
  /** How much of it lies in the bar it begins in: its notes cross no bar line. */
  readonly inBar: Ticks;
  /** True where the scale goes on from the line above. */
  readonly continued: boolean;
}

export interface BeatView extends Beat {
  /** "bar 2, beat 3, G7, altered". */
  readonly label: string;
}

export interface LineView {
  readonly bars: readonly BarView[];
  readonly treatments: readonly TreatmentView[];
  readonly scales: readonly ScaleView[];
  readonly beats: readonly BeatView[];
}

/** What a line is drawn from. */
export interface Sources {
  readonly form: Form;
  readonly changes: Changes;
  readonly placed: readonly PlacedTreatment[];
  readonly problems: readonly Problem[];
}

const scales = new Map<string, ScaleChoice | null>();

/** The scale suggested first for a span; null where no chord sounds. */
export function scaleOf(changes: Changes, index: number): ScaleChoice | null {
  const span = changes.spans[index];
  if (span?.chord == null) return null;
  const next = changes.spans[index + 1] ?? changes.spans[0];
  return firstScale(span.chord, span.treatment?.kind ?? null, next?.chord ?? null);
}

function firstScale(chord: Chord, treatment: string | null, next: Chord | null): ScaleChoice | null {
  const key = `${chord.text} ${treatment ?? ''} ${next?.text ?? ''}`;
  const known = scales.get(key);
  if (known !== undefined) return known;
  if (scales.size > 2000) scales.clear();
  const first = suggestScales(chord, { treatment, next })[0] ?? null;
  scales.set(key, first);
  return first;
}

/** The spans that sound anywhere in a stretch, with their indices. */
export function spansIn(changes: Changes, from: number, to: number): { span: Span; index: number }[] {
  const found: { span: Span; index: number }[] = [];
  for (let index = indexAt(changes.spans, from); index < changes.spans.length; index++) {
    const span = changes.spans[index]!;
    if (span.start >= to) break;
    if (span.start + span.length > from) found.push({ span, index });
  }
  return found;
}

/** A treatment's name as the lane shows it. */
export function treatmentWord(kind: TreatmentKind): string {
  return TREATMENTS[kind].label.toLowerCase();
}

/** All there is to see and to say in one line of the ribbon. */
export function lineView(sources: Sources, line: Line): LineView {
  const { form, changes } = sources;
  const bars = form.bars.slice(line.first, line.end);
  const end = line.start + line.length;
  const sounding = spansIn(changes, line.start, end);
  const clip = (start: number, length: number) => {
    const from = Math.max(start, line.start);
    return { start: ticks(from), length: ticks(Math.min(start + length, end) - from) };
  };
  const placed = occurrences(sources, line);
  const treatments: TreatmentView[] = [];
  for (const { span } of sounding) {
    const mark = span.treatment;
    if (mark === null) {
      if (span.chord?.altered === true) treatments.push(asWritten(clip(span.start, span.length)));
      continue;
    }
    const kind = mark.kind as TreatmentKind;
    const under = placed.find((other) => covers(other, span.start));
    treatments.push({
      ...clip(span.start, span.length),
      kind,
      origin: mark.origin,
      sounds: true,
      word:
        kind === 'tritone-substitute' && span.chord !== null
          ? noteWithSign(span.chord.text)
          : treatmentWord(kind),
      reason: mark.reason,
      id: mark.origin === 'hand' ? (under?.id ?? null) : null,
    });
  }
  for (const item of placed) {
    const covered = treatments.some(
      ({ start, length }) => start < item.start + item.length && item.start < start + length,
    );
    if (covered) continue;
    treatments.push({
      ...clip(item.start, item.length),
      kind: item.kind,
      origin: 'hand',
      sounds: false,
      word: treatmentWord(item.kind),
      reason: 'silent in this round',
      id: item.id,
    });
  }
  const lanes: ScaleView[] = [];
  for (const { span, index } of sounding) {
    const scale = scaleOf(changes, index);
    const last = lanes.at(-1);
    const there = clip(span.start, span.length);
    if (scale === null) continue;
    if (last?.scale === scale && last.start + last.length === there.start) {
      lanes[lanes.length - 1] = { ...last, length: ticks(last.length + there.length) };
    } else {
      const bar = bars[indexAt(bars, there.start)]!;
      const inBar = ticks(Math.min(there.length, bar.start + bar.bar.length - there.start));
      lanes.push({ ...there, scale, inBar, continued: span.start < line.start });
    }
  }
  return {
    bars: bars.map((bar, i) => barView(sources.problems, bar, line.first + i)),
    treatments: treatments.toSorted((a, b) => a.start - b.start),
    scales: lanes,
    beats: bars.flatMap((_, i) =>
      beatsOfBar(form.bars, line.first + i).map((beat) => labelled(sources, beat)),
    ),
  };
}

const asWritten = (stretch: { start: Ticks; length: Ticks }): TreatmentView => ({
  ...stretch,
  kind: 'altered',
  origin: 'written',
  sounds: true,
  word: 'altered as written',
  reason: 'the symbol says alt',
  id: null,
});

interface Occurrence {
  readonly id: string;
  readonly kind: TreatmentKind;
  readonly start: number;
  readonly length: number;
}

const covers = ({ start, length }: Occurrence, tick: number) => start <= tick && tick < start + length;

/** Where the placed treatments lie in a line, at every pass of their bar. */
function occurrences({ form, placed }: Sources, line: Line): Occurrence[] {
  if (placed.length === 0) return [];
  return form.bars.flatMap(({ bar, start }) =>
    placed
      .filter((item) => item.bar === bar.index)
      .map((item) => ({ id: item.id, kind: item.kind, start: start + item.at, length: item.length }))
      .filter((item) => item.start < line.start + line.length && item.start + item.length > line.start),
  );
}

/** A bar of the form as the ribbon shows it. */
export function barView(problems: readonly Problem[], { bar, start, pass }: FormBar, index: number): BarView {
  const chords =
    bar.simile > 0
      ? [simile(bar.index, start, bar.length)]
      : bar.slots.map((slot, i) => chordView(slot, start, bar.index, i, problems));
  return {
    index,
    start,
    length: bar.length,
    number: index + 1,
    mark: bar.mark,
    note: bar.note,
    metre: bar.newMetre || index === 0 ? metreName(bar.metre) : null,
    pass: pass > 1 ? pass : null,
    repeatStart: bar.repeatStart,
    repeatEnd: bar.repeatEnd > 0,
    doubleEnd: bar.doubleEnd,
    chords,
  };
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

function chordView(
  slot: Slot,
  start: Ticks,
  bar: number,
  index: number,
  problems: readonly Problem[],
): ChordView {
  const problem = problems.find(({ from, to }) => from < slot.to && to > slot.from) ?? null;
  return {
    start: ticks(start + slot.at),
    length: slot.length,
    chord: slot.chord,
    text: slot.chord?.text ?? (slot.silence === 'no-chord' ? 'N.C.' : '?'),
    look: slot.chord !== null ? 'chord' : slot.silence === 'no-chord' ? 'silent' : 'gap',
    optional: slot.optional,
    bar,
    slot: index,
    problem: problem === null ? null : `${problem.message} ${problem.remedy}`,
  };
}

function labelled({ changes }: Sources, beat: Beat): BeatView {
  const index = indexAt(changes.spans, beat.start);
  const span = changes.spans[index];
  const words = [`bar ${beat.bar + 1}`, `beat ${beat.beat + 1}`];
  if (span !== undefined) {
    words.push(
      span.written === null ? (span.silence === 'gap' ? 'unreadable chord' : 'no chord') : span.written.text,
    );
    if (span.treatment !== null) words.push(treatmentWord(span.treatment.kind as TreatmentKind));
    const scale = scaleOf(changes, index);
    if (scale !== null) words.push(`${wordsWithSigns(scale.name)} scale`);
  }
  return { ...beat, label: words.join(', ') };
}
