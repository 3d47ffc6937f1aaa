import { type TreatmentKind } from '../../engine/index.ts';
import { wordsWithSigns } from '../chord/symbol.ts';
import { fittingAt } from '../harmony/fitting.ts';
import { barView, typedAt, type BarView } from './bars.ts';
import { scaleLane, treatmentLane, treatmentWord, type ScaleView, type TreatmentView } from './lanes.ts';
import { beatsOfBar, indexAt, type Beat, type Line } from './layout.ts';
import type { Sources } from './sources.ts';

export interface BeatView extends Beat {
  /** "bar 2, beat 3, G7, altered, G altered scale". */
  readonly label: string;
}

/** All there is to see and to say in one line of the ribbon. */
export interface LineView {
  readonly bars: readonly BarView[];
  readonly treatments: readonly TreatmentView[];
  readonly scales: readonly ScaleView[];
  readonly beats: readonly BeatView[];
}

/** What a line of the ribbon shows. */
export function lineView(sources: Sources, line: Line): LineView {
  const { bars } = sources.form;
  const indices = Array.from({ length: line.end - line.first }, (_, i) => line.first + i);
  return {
    bars: indices.map((index) => barView(sources, bars[index]!, index)),
    treatments: treatmentLane(sources, line),
    scales: scaleLane(sources, line),
    beats: indices.flatMap((index) => beatsOfBar(bars, index).map((beat) => labelled(sources, beat))),
  };
}

function labelled(sources: Sources, beat: Beat): BeatView {
  const { changes, text } = sources;
  const index = indexAt(changes.spans, beat.start);
  const span = changes.spans[index];
  const words = [`bar ${beat.bar + 1}`, `beat ${beat.beat + 1}`];
  if (span?.written != null) words.push(span.written.text);
  else if (span?.silence === 'gap') words.push(`unreadable chord ${typedAt(text, span)}`);
  else words.push('no chord');
  if (span?.treatment != null) words.push(treatmentWord(span.treatment.kind as TreatmentKind));
  const fitting = fittingAt(sources, index);
  if (fitting !== null)
    words.push(`${wordsWithSigns(fitting.scale.name)} scale${fitting.picked ? ', picked' : ''}`);
  return { ...beat, label: words.join(', ') };
}
