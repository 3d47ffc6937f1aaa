import { prettyText, type Target, type TreatmentKind } from '../../engine/index.ts';
import type { Written } from '../chord/written.ts';
import { fittingAt } from '../harmony/fitting.ts';
import { movesAfter } from '../harmony/moves.ts';
import { readingAt } from '../harmony/readings.ts';
import { barView, typedAt, type BarView } from './bars.ts';
import {
  scaleLane,
  targetLane,
  treatmentLane,
  treatmentWord,
  type ScaleView,
  type TargetView,
  type TreatmentView,
} from './lanes.ts';
import { hitLane, hitWords, type HitView, type StopView } from './hit-lane.ts';
import { functionLane, functionText, type FunctionView } from './functions.ts';
import { beatsOfBar, indexAt, type Beat, type Line } from './layout.ts';
import type { Sources } from './sources.ts';

export interface BeatView extends Beat {
  /** "bar 2, beat 3, G7, altered, G altered scale". */
  readonly label: string;
}

/** All there is to see and to say in one line of the ribbon. */
export interface LineView {
  readonly bars: readonly BarView[];
  readonly hits: readonly HitView[];
  readonly stops: readonly StopView[];
  readonly treatments: readonly TreatmentView[];
  readonly scales: readonly ScaleView[];
  readonly functions: readonly FunctionView[];
  readonly targets: readonly TargetView[];
  readonly beats: readonly BeatView[];
}

/** The lanes that are shown on request, or where there is something in them. */
export interface Shown {
  readonly functions: boolean;
  readonly targets: boolean;
  readonly hits: boolean;
  /** The notes of a take. */
  readonly take?: boolean;
  /** What stands of the scales: their names and notes where nothing is said. */
  readonly scales?: 'notes' | 'names' | 'none';
}

/** What of a line is shown, and for whom its names are. */
export interface Look extends Shown {
  readonly written: Written;
}

/** What a line of the ribbon shows. */
export function lineView(sources: Sources, line: Line, show: Look): LineView {
  const { bars } = sources.form;
  const indices = Array.from({ length: line.end - line.first }, (_, i) => line.first + i);
  return {
    bars: indices.map((index) => barView(sources, bars[index]!, index)),
    ...hitLane(sources, line),
    treatments: treatmentLane(sources, line, show.written),
    scales: show.scales === 'none' ? [] : scaleLane(sources, line),
    functions: show.functions ? functionLane(sources, line, show.written) : [],
    targets: show.targets ? targetLane(sources, line) : [],
    beats: indices.flatMap((index) => beatsOfBar(bars, index).map((beat) => labelled(sources, beat, show))),
  };
}

function labelled(sources: Sources, beat: Beat, show: Look): BeatView {
  const { written } = show;
  const { changes, text } = sources;
  const index = indexAt(changes.spans, beat.start);
  const span = changes.spans[index];
  const words = [`bar ${beat.bar + 1}`, `beat ${beat.beat + 1}`];
  if (span?.written != null) words.push(written.chord(span.written).text);
  else if (span?.silence === 'gap') words.push(`unreadable chord ${typedAt(text, span)}`);
  else words.push('no chord');
  if (span?.treatment != null) words.push(treatmentWord(span.treatment.kind as TreatmentKind));
  words.push(...hitWords(sources, beat));
  const reading = show.functions ? readingAt(sources.heard, beat.start) : null;
  if (reading !== null) words.push(functionText(reading, written));
  const fitting = fittingAt(sources, index);
  if (fitting !== null)
    words.push(`${prettyText(written.scale(fitting.scale).name)} scale${fitting.picked ? ', picked' : ''}`);
  if (show.targets && span !== undefined && span.start + span.length <= beat.start + beat.length)
    words.push(...movesAfter(sources, index).map((target) => moveInWords(target, written)));
  return { ...beat, label: words.join(', ') };
}

/** "b9, A♭, falls to 5, G" at the pitch the player reads. */
function moveInWords(target: Target, written: Written): string {
  if (written.says === null) return prettyText(target.reason.slice(0, -1));
  const [from, to] = [written.note(target.from), written.note(target.to)];
  return prettyText(`${from.degree}, ${from.plain}, to ${to.degree}, ${to.plain}`);
}
