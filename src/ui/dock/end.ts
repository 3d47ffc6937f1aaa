import { formTickOf, prettyText, type Ending, type Finish, type Place } from '../../engine/index.ts';
import { indexAt } from '../ribbon/layout.ts';
import type { Session } from '../session.svelte.ts';

/** Brings the music to its end, and says how. */
export function endMusic(session: Session, finish: Finish): void {
  const { playing } = session;
  if (!playing.on || playing.ending) return;
  playing.finish(finish);
  const ending = playing.foresee(finish);
  if (ending !== null) session.say(endWords(session, ending));
}

/** "Slows down in bars 31 and 32, then holds B♭6." */
export function endWords(session: Session, { from, to, chord }: Ending): string {
  const [first, last] = [barNumber(session, from), barNumber(session, to)];
  const slows = first === last ? `in bar ${last}` : `in bars ${first} and ${last}`;
  const holds = chord === null ? ', and stops' : `, then holds ${prettyText(chord)}`;
  return `Slows down ${slows}${holds}.`;
}

/** Whether a section ends sooner than the round. */
export function hasSections(session: Session): boolean {
  const { playing } = session;
  const [section, round] = [playing.foresee('section'), playing.foresee('round')];
  return section !== null && round !== null && section.slows < round.slows;
}

/** The number of a bar in the form, as the ribbon counts it. */
function barNumber(session: Session, { changes, bar }: Place): number {
  const at = formTickOf(session.plan, changes.bars[bar]!.start) ?? 0;
  return indexAt(session.form.bars, at) + 1;
}
