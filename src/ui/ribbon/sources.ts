import {
  type Changes,
  type PlacedHit,
  type PlacedTreatment,
  type Problem,
  type Span,
} from '../../engine/index.ts';
import type { ScaleSources } from '../harmony/fitting.ts';
import { indexAt } from './layout.ts';

/** What the ribbon is drawn from. */
export interface Sources extends ScaleSources {
  /** The chart as typed. */
  readonly text: string;
  readonly placed: readonly PlacedTreatment[];
  readonly hits: readonly PlacedHit[];
  readonly problems: readonly Problem[];
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
