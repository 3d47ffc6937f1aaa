import {
  prettyText,
  barLength,
  beatLength,
  formTickOf,
  ticks,
  touchSentence,
  type Metre,
  type Ticks,
} from '../../engine/index.ts';
import type { AlterLength } from '../preferences.svelte.ts';
import { writtenFor } from '../chord/written.ts';
import type { Now } from '../playing.svelte.ts';
import type { Session } from '../session.svelte.ts';

/** How long a tap alters. */
export function alterTicks(length: AlterLength, metre: Metre): Ticks {
  if (length === 'bar') return barLength(metre);
  return ticks(beatLength(metre) * (length === 'beat' ? 1 : 2));
}

/** Alters from the next beat on, until let go. */
export function pressAlter(session: Session): void {
  const { playing, preferences } = session;
  if (!playing.on) {
    session.say(
      'The band must be playing to be altered as it goes. While it rests, drag across the treatment lane.',
    );
    return;
  }
  const report = playing.press(preferences.values.alterKind);
  if (report?.chords.length === 0) session.say('No dominant lies on the next beat: nothing changes there.');
}

/** Lets go of what {@link pressAlter} began. */
export function releaseAlter(session: Session): void {
  const { playing, preferences } = session;
  if (!playing.held) return;
  const metre = playing.now?.metre ?? { count: 4, unit: 4 as const };
  playing.release(alterTicks(preferences.values.alterLength, metre));
}

/** What a tap would do now, in one sentence. */
export function alterPreview({ playing, preferences, changes, form }: Session): string {
  if (form.bars.length === 0) return 'There is nothing to alter yet.';
  const { now, held } = playing;
  if (now === null) return 'While the band plays: tap, or hold.';
  if (held) return 'Altered for as long as you hold.';
  const { alterKind: kind, alterLength, written } = preferences.values;
  const at = nextBeat(now);
  const length = alterTicks(alterLength, now.metre);
  const sentence =
    at === null ? null : touchSentence(writtenFor(written).changes(changes), { at, length, kind });
  return sentence === null ? 'No dominant on the next beat.' : prettyText(`Next beat: ${sentence}`);
}

/** The form's tick at which the beat after the one told of begins, in the round after it, too; null in a rest. */
function nextBeat({ place, bar: index, beat, metre, countIn, plan }: Now): Ticks | null {
  const bar = place.changes.bars[index]!;
  const next = bar.start - bar.skipped + (countIn > 0 ? beat : beat + 1) * beatLength(metre);
  const tick = formTickOf(plan, Math.min(next, bar.start + bar.length) % place.changes.length);
  return tick === null ? null : ticks(tick);
}
