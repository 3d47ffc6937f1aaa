import type { Changes, Span } from '../../src/engine/harmony/index.ts';
import type { PlacedTreatment, TreatmentKind, TreatmentRule } from '../../src/engine/treatment/index.ts';
import { beats, toQuarters } from '../../src/engine/units/index.ts';

const ORIGIN = { hand: '!', rule: '~', live: '*' } as const;

/**
 * Changes as a test reads them: each span with its quarter notes; `!` marks a treatment placed by hand,
 * `~` one by rule, `*` one played live. "Dm7 4, G7 2, G7alt! 2".
 */
export function drawChanges({ spans }: Changes): string {
  return spans.map((span) => `${nameOf(span)} ${toQuarters(span.length)}`).join(', ');
}

const nameOf = ({ chord, silence, treatment }: Span): string =>
  (chord?.text ?? (silence === 'no-chord' ? 'N.C.' : '?')) +
  (treatment === null ? '' : ORIGIN[treatment.origin]);

/** Placed by hand on bar `bar` (from 0), `at` and `length` in quarter notes. */
export const placed = (
  kind: TreatmentKind,
  bar: number,
  at: number,
  length: number,
  rest: Partial<PlacedTreatment> = {},
): PlacedTreatment => ({
  id: `${kind} ${bar} ${at}`,
  kind,
  bar,
  at: beats(at),
  length: beats(length),
  when: { type: 'always' },
  ...rest,
});

/** A rule over the whole of each dominant, unless `rest` says otherwise. */
export const rule = (
  kind: TreatmentKind,
  scope: TreatmentRule['scope'],
  rest: Partial<TreatmentRule> = {},
): TreatmentRule => ({
  id: `${kind} ${scope}`,
  kind,
  scope,
  extent: { type: 'whole' },
  bars: null,
  when: { type: 'always' },
  ...rest,
});
