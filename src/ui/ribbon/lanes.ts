import {
  ticks,
  TREATMENTS,
  type ScaleChoice,
  type Span,
  type Target,
  type Ticks,
  type TreatmentKind,
} from '../../engine/index.ts';
import { noteWithSign } from '../chord/symbol.ts';
import type { Written } from '../chord/written.ts';
import { fittingAt } from '../harmony/fitting.ts';
import { movesAfter } from '../harmony/moves.ts';
import { indexAt, type Line } from './layout.ts';
import { spansIn, type Sources } from './sources.ts';

/** A coloured stretch of the treatment lane. Ticks of the form. */
export interface TreatmentView {
  readonly start: Ticks;
  readonly length: Ticks;
  readonly kind: TreatmentKind;
  /** `written` where the symbol itself asks for the colour. */
  readonly origin: 'hand' | 'rule' | 'live' | 'written';
  /** False where it is placed but silent in this round. */
  readonly sounds: boolean;
  readonly word: string;
  /** The placed treatment it comes from; null for all that is not placed by hand. */
  readonly id: string | null;
}

export interface ScaleView {
  readonly start: Ticks;
  readonly length: Ticks;
  readonly scale: ScaleChoice;
  /** True where the player picked it. */
  readonly picked: boolean;
  /** How much of it lies in the bar it begins in: its notes cross no bar line. */
  readonly inBar: Ticks;
  /** True where the scale goes on from the line above. */
  readonly continued: boolean;
}

/** What moves where at the end of a span. */
export interface TargetView {
  /** The stretch before the change that lies in the line. Ticks of the form. */
  readonly start: Ticks;
  readonly length: Ticks;
  readonly moves: readonly Target[];
}

/** A treatment's name as the lane shows it. */
export function treatmentWord(kind: TreatmentKind): string {
  return TREATMENTS[kind].label.toLowerCase();
}

/** The coloured stretches of a line, those that are silent in this round among them. */
export function treatmentLane(sources: Sources, line: Line, written: Written): TreatmentView[] {
  const placed = occurrences(sources, line);
  const sounding = spansIn(sources.changes, line.start, line.start + line.length).flatMap(({ span }) => {
    const there = clip(line, span.start, span.length);
    if (span.treatment === null) return span.chord?.altered === true ? [asWritten(there)] : [];
    const kind = span.treatment.kind as TreatmentKind;
    const { origin } = span.treatment;
    const under = placed.find(({ start, length }) => start <= span.start && span.start < start + length);
    const id = origin === 'hand' ? (under?.id ?? null) : null;
    return [{ ...there, kind, origin, sounds: true, word: wordOf(kind, span, written), id }];
  });
  const silent = placed
    .filter((item) => !sounding.some((view) => overlap(view, item)))
    .map(({ id, kind, start, length }): TreatmentView => ({
      ...clip(line, start, length),
      kind,
      origin: 'hand',
      sounds: false,
      word: treatmentWord(kind),
      id,
    }));
  return [...sounding, ...silent].sort((a, b) => a.start - b.start);
}

/** The scale under each stretch of a line. */
export function scaleLane(sources: Sources, line: Line): ScaleView[] {
  const { changes, form } = sources;
  const lane: ScaleView[] = [];
  for (const { span, index } of spansIn(changes, line.start, line.start + line.length)) {
    const fitting = fittingAt(sources, index);
    if (fitting === null) continue;
    const { scale, picked } = fitting;
    const there = clip(line, span.start, span.length);
    const last = lane.at(-1);
    if (last?.scale === scale && last.picked === picked && last.start + last.length === there.start) {
      lane[lane.length - 1] = { ...last, length: ticks(last.length + there.length) };
      continue;
    }
    const bar = form.bars[indexAt(form.bars, there.start)]!;
    const inBar = ticks(Math.min(there.length, bar.start + bar.bar.length - there.start));
    lane.push({ ...there, scale, picked, inBar, continued: span.start < line.start });
  }
  return lane;
}

/** What moves where at each change of chord that comes in a line or at its end. */
export function targetLane(sources: Sources, line: Line): TargetView[] {
  const end = line.start + line.length;
  return spansIn(sources.changes, line.start, end).flatMap(({ span, index }) => {
    if (span.start + span.length > end) return [];
    const moves = movesAfter(sources, index);
    return moves.length === 0 ? [] : [{ ...clip(line, span.start, span.length), moves }];
  });
}

function wordOf(kind: TreatmentKind, span: Span, written: Written): string {
  const substitute = kind === 'tritone-substitute' && span.chord !== null;
  return substitute ? noteWithSign(written.chord(span.chord).text) : treatmentWord(kind);
}

const asWritten = (stretch: { start: Ticks; length: Ticks }): TreatmentView => ({
  ...stretch,
  kind: 'altered',
  origin: 'written',
  sounds: true,
  word: 'altered as written',
  id: null,
});

interface Extent {
  readonly start: number;
  readonly length: number;
}

const overlap = (a: Extent, b: Extent) => a.start < b.start + b.length && b.start < a.start + a.length;

/** The part of a stretch that lies in a line. */
function clip(line: Line, start: number, length: number): { start: Ticks; length: Ticks } {
  const from = Math.max(start, line.start);
  return { start: ticks(from), length: ticks(Math.min(start + length, line.start + line.length) - from) };
}

/** Where the placed treatments lie in a line, at every pass of their bar. */
function occurrences({ form, placed }: Sources, line: Line) {
  if (placed.length === 0) return [];
  return form.bars.flatMap(({ bar, start }) =>
    placed
      .filter((item) => item.bar === bar.index)
      .map(({ id, kind, at, length }) => ({ id, kind, start: start + at, length }))
      .filter((item) => overlap(item, line)),
  );
}
