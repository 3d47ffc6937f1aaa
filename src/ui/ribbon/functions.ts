import {
  prettyName,
  prettyText,
  ticks,
  type FunctionReading,
  type Key,
  type Ticks,
} from '../../engine/index.ts';
import type { Written } from '../chord/written.ts';
import type { Line } from './layout.ts';
import { spansIn, type Sources } from './sources.ts';

/** What a chord does in its key, as it stands under the chord. Ticks of the form. */
export interface FunctionView {
  readonly start: Ticks;
  readonly length: Ticks;
  /** The key where it begins, as analysts write it: "C:", in minor "Cm:"; null where it goes on. */
  readonly key: string | null;
  readonly label: string;
}

/** The functions of the chords as written that begin in a line; the key is told anew in every line. */
export function functionLane({ heard }: Sources, line: Line, written: Written): FunctionView[] {
  const lane: FunctionView[] = [];
  let last = '';
  for (const { span, index } of spansIn(heard.written, line.start, line.start + line.length)) {
    const reading = heard.readings[index];
    if (reading == null || span.start < line.start) continue;
    const key = keySign(reading.key, written);
    const length = ticks(Math.min(span.length, line.start + line.length - span.start));
    lane.push({
      start: span.start,
      length,
      key: key === last ? null : key,
      label: prettyText(reading.label),
    });
    last = key;
  }
  return lane;
}

/** A reading in short: "V7/ii in C major". */
export function functionText({ label, key }: FunctionReading, written: Written): string {
  return `${prettyText(label)} in ${prettyName(written.tonic(key.tonic))} ${key.mode}`;
}

const keySign = ({ tonic, mode }: Key, written: Written) =>
  `${prettyName(written.tonic(tonic))}${mode === 'minor' ? 'm' : ''}:`;
