import type { Changes, Chord } from '../harmony/index.ts';
import { applyTreatment } from './apply.ts';
import { dominantsOf, firstDominant } from './dominants.ts';
import { paint } from './paint.ts';
import { whereText } from './reason.ts';
import { spanAt } from './slice.ts';
import { TREATMENTS } from './data.ts';
import type { Touch, TreatmentKind } from './types.ts';

/**
 * Lays a live touch over changes that may be treated already; it wins over what lies there. Where no
 * dominant is written beneath it, nothing changes.
 * @returns `changes` itself when the touch meets no dominant
 */
export function touch(changes: Changes, { at, length, kind }: Touch): Changes {
  const stroke = { from: at, to: at + length, kind, origin: 'live', cause: 'played live' } as const;
  return paint(changes, dominantsOf(changes), [stroke]);
}

/**
 * What a touch would do, in one sentence: "G7 becomes G7alt on beats 3 and 4."
 * @returns null where it meets no dominant, and nothing changes
 */
export function touchSentence(changes: Changes, { at, length, kind }: Touch): string | null {
  const dominants = dominantsOf(changes);
  const found = dominants[firstDominant(dominants, at)];
  if (!found || found.from >= at + length) return null;
  const from = Math.max(at, found.from);
  const sounding = spanAt(changes, from)?.chord ?? found.chord;
  return `${turning(found.chord, sounding, kind)} ${whereText(changes, from, Math.min(at + length, found.to))}.`;
}

/** What becomes of a chord; one that is written as it would be may sound otherwise, treated. */
function turning(written: Chord, sounding: Chord, kind: TreatmentKind): string {
  if (kind === 'suspended-first') return `${written.text} is suspended, then takes its third,`;
  const treated = applyTreatment(written, kind) ?? written;
  const before = treated.text === written.text ? sounding : written;
  return treated.text === before.text
    ? `${before.text} stays ${TREATMENTS[kind].word}`
    : `${before.text} becomes ${treated.text}`;
}
