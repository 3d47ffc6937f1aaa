import {
  prettyText,
  barLength,
  beatLength,
  nextDominant,
  ticks,
  touchSentence,
  type Metre,
  type Ticks,
} from '../../engine/index.ts';
import { beatAt } from '../ribbon/layout.ts';
import type { AlterLength } from '../preferences.svelte.ts';
import { writtenFor } from '../chord/written.ts';
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
export function alterPreview(session: Session, cursor: number): string {
  const { playing, preferences, changes, form } = session;
  const beat = beatAt(form.bars, playing.now?.tick ?? cursor);
  if (beat === null) return 'There is nothing to alter yet.';
  const metre = form.bars[beat.bar]!.bar.metre;
  const at = ticks((playing.on ? beat.start + beat.length : beat.start) % Math.max(1, changes.length));
  const length = alterTicks(preferences.values.alterLength, metre);
  const ahead = nextDominant(changes, at);
  if (!playing.on) return 'While the band plays: tap, or hold.';
  if (playing.held) return 'Altered for as long as you hold.';
  if (ahead === null || ahead.from >= at + length) return 'No dominant on the next beat.';
  return prettyText(
    `Next beat: ${touchSentence(writtenFor(preferences.values.written).changes(changes), { at, length, kind: preferences.values.alterKind })}`,
  );
}
