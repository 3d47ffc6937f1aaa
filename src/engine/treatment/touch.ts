import type { Changes, Chord } from '../harmony/index.ts';
import { ticks, type Ticks } from '../units/index.ts';
import { applyTreatment } from './apply.ts';
import { dominantsOf, firstDominant } from './dominants.ts';
import { paint } from './paint.ts';
import { whereText } from './reason.ts';
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

/** A dominant that a touch could colour. */
export interface DominantAhead {
  /** Where it can be touched from: its start, or the tick asked about when it sounds already. */
  readonly from: Ticks;
  readonly to: Ticks;
  /** As the chart writes it. */
  readonly chord: Chord;
  readonly sounding: boolean;
}

/** The dominant that sounds at tick `at`, or the next one in the round; null when none is left. */
export function nextDominant(changes: Changes, at: number): DominantAhead | null {
  const dominants = dominantsOf(changes);
  const found = dominants[firstDominant(dominants, at)];
  if (!found) return null;
  const sounding = found.from <= at;
  return { from: sounding ? ticks(Math.ceil(at)) : found.from, to: found.to, chord: found.chord, sounding };
}

/**
 * What a touch would do, in one sentence: "G7 becomes G7alt on beats 3 and 4.", or why it does nothing:
 * "Fmaj7 is no dominant: nothing changes."
 */
export function touchSentence(changes: Changes, { at, length, kind }: Touch): string {
  const dominants = dominantsOf(changes);
  const found = dominants[firstDominant(dominants, at)];
  if (!found || found.from >= at + length) {
    const beneath = changes.spans.find((span) => span.start + span.length > at)?.written;
    return beneath
      ? `${beneath.text} is no dominant: nothing changes.`
      : 'No chord sounds here: nothing changes.';
  }
  const where = whereText(changes, Math.max(at, found.from), Math.min(at + length, found.to));
  return `${found.chord.text} ${turnsInto(found.chord, kind)} ${where}.`;
}

function turnsInto(chord: Chord, kind: TreatmentKind): string {
  const treated = applyTreatment(chord, kind);
  if (kind === 'suspended-first') return 'is suspended, then takes its third,';
  return treated && treated.text !== chord.text
    ? `becomes ${treated.text}`
    : `stays ${TREATMENTS[kind].word}`;
}
