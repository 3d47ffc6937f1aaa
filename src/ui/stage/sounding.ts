import {
  beatLength,
  type Changes,
  type Chord,
  type Place,
  type ScaleChoice,
  type Span,
  type TreatmentKind,
} from '../../engine/index.ts';
import { firstAt, fittingAt } from '../harmony/fitting.ts';
import { guideTonesInto } from '../harmony/moves.ts';
import { beatAt, indexAt } from '../ribbon/layout.ts';
import type { Session } from '../session.svelte.ts';

/** A harmony as the stage shows it. */
export interface Harmony {
  readonly chord: Chord | null;
  readonly silence: Span['silence'];
  /** The colour that sounds, laid over the chord or written into it. */
  readonly colour: TreatmentKind | null;
  readonly scale: ScaleChoice | null;
}

/** What is heard now, what comes, and when. */
export interface Sounding {
  readonly now: Harmony;
  /** Null when the same harmony goes on, or comes again after the rest between two rounds. */
  readonly next: Harmony | null;
  /** Where the guide tones go when `next` comes. */
  readonly guides: ReturnType<typeof guideTonesInto>;
  /** Felt beats until `next`, from the beat that sounds. */
  readonly until: number;
  readonly bar: number;
  readonly beats: number;
  readonly beat: number;
}

/** What sounds now; while nothing plays, what lies under the cursor. Null in an empty form. */
export function sounding(session: Session, cursor: number): Sounding | null {
  const { now } = session.playing;
  if (now === null) {
    const { bars } = session.form;
    const beat = beatAt(bars, cursor);
    const bar = beat && bars[beat.bar];
    if (beat === null || bar == null) return null;
    const unit = beatLength(bar.bar.metre);
    const changes = session.seen(session.changes);
    return read(session, changes, (start) => start, indexAt(changes.spans, cursor), cursor, unit, {
      bar: beat.bar,
      beats: Math.ceil(bar.bar.length / unit),
      beat: beat.beat,
    });
  }
  const { place, beat, metre } = now;
  const bar = place.changes.bars[place.bar]!;
  const unit = beatLength(metre);
  const at = bar.start - bar.skipped + beat * unit;
  const { stands } = now.plan;
  const inForm = (start: number) => stands ?? start + now.tick - at;
  const where = {
    bar: indexAt(session.form.bars, now.tick),
    beats: Math.ceil((bar.length + bar.skipped) / unit),
    beat,
  };
  return read(
    session,
    session.seen(place.changes),
    inForm,
    place.span,
    at,
    unit,
    where,
    endOf(session, place),
  );
}

/** Which span of the changes is the last to be gone through, and which is held then. */
interface End {
  readonly last: number;
  readonly holds: number | null;
}

/** How the round at `place` ends; null where another follows it. */
function endOf({ playing }: Session, place: Place): End | null {
  const ending = playing.ending ? playing.foresee('round') : null;
  if (ending === null || ending.to.round !== place.round) return null;
  const isHeld = (playing.tick() ?? 0) >= ending.rests;
  return isHeld ? { last: place.span, holds: null } : { last: ending.to.span, holds: ending.holds };
}

function read(
  session: Session,
  changes: Changes,
  /** The tick of the form that a tick of the changes is. */
  inForm: (start: number) => number,
  index: number,
  at: number,
  unit: number,
  place: { bar: number; beats: number; beat: number },
  end: End | null = null,
): Sounding | null {
  const span = changes.spans[index];
  if (span === undefined) return null;
  const harmonyAt = (there: number) => harmony(session, changes, inForm, there);
  let next: Harmony | null = null;
  let guides: Sounding['guides'] = [];
  let until = span.start + span.length - at;
  for (let step = 1; step < changes.spans.length; step++) {
    const ahead = index + step - (end?.last ?? Infinity);
    const there = ahead < 1 ? (index + step) % changes.spans.length : ahead === 1 ? end!.holds : null;
    if (there === null) break;
    const other = changes.spans[there]!;
    const goesOn = other.chord?.text === span.chord?.text && other.treatment?.kind === span.treatment?.kind;
    if (!goesOn && other.silence !== 'rest') {
      next = harmonyAt(there);
      guides = guideTonesInto(changes, index, there);
      break;
    }
    until += other.length;
  }
  return { ...place, now: harmonyAt(index), next, guides, until: Math.max(1, Math.round(until / unit)) };
}

function harmony(
  session: Session,
  changes: Changes,
  inForm: (start: number) => number,
  index: number,
): Harmony {
  const span = changes.spans[index]!;
  const laid = (span.treatment?.kind ?? null) as TreatmentKind | null;
  return {
    chord: span.chord,
    silence: span.silence,
    colour: laid ?? (span.chord?.altered === true ? 'altered' : null),
    scale: span.chord === null ? null : scaleOf(session, changes, inForm, index),
  };
}

/** The scale the ribbon shows for what sounds; while the ribbon is ahead of the band, the first to fit. */
function scaleOf(
  { sources }: Session,
  changes: Changes,
  inForm: (start: number) => number,
  index: number,
): ScaleChoice | null {
  const span = changes.spans[index]!;
  const there = indexAt(sources.changes.spans, inForm(span.start));
  const shown = sources.changes.spans[there];
  const same = shown?.chord?.text === span.chord?.text && shown?.treatment?.kind === span.treatment?.kind;
  return same ? (fittingAt(sources, there)?.scale ?? null) : firstAt(changes, index);
}
