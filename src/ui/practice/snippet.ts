import { beatLength, ticks, type Changes, type Practice, type Stretch } from '../../engine/index.ts';
import { indexAt } from '../ribbon/layout.ts';

/** A stretch to loop, and what is heard before and after it. */
export interface Snippet {
  readonly loop: Stretch;
  readonly around: Pick<Practice, 'runUp' | 'landing'>;
}

/**
 * The chord that sounds at `at` and where it goes: it loops from its start, two beats before it are heard,
 * and the chord it goes to, a bar of it at most. Null where no chord sounds.
 */
export function chordAndWhereItGoes(changes: Changes, at: number): Snippet | null {
  const { spans, bars } = changes;
  const first = indexAt(spans, at);
  const span = spans[first];
  if (span?.chord == null) return null;
  let last = first;
  while (spans[last + 1]?.written === span.written && last - first < spans.length) last++;
  let begin = first;
  while (begin > 0 && spans[begin - 1]!.written === span.written) begin--;
  const from = spans[begin]!.start;
  const to = ticks(spans[last]!.start + spans[last]!.length);
  const next = spans[(last + 1) % spans.length]!;
  const bar = bars[next.bar]!;
  const beat = beatLength(bars[span.bar]!.metre);
  return {
    loop: { from, to },
    around: {
      runUp: ticks(Math.min(2 * beat, changes.length - (to - from))),
      landing: ticks(Math.min(next.length, bar.length, changes.length - (to - from))),
    },
  };
}
