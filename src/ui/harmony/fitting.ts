import {
  canPick,
  scaleById,
  suggestAt,
  type Changes,
  type Chord,
  type Form,
  type FunctionReading,
  type ScaleChoice,
  type ScalePick,
} from '../../engine/index.ts';
import { readingAt, type Readings } from './readings.ts';

/** What scales are chosen from. */
export interface ScaleSources {
  readonly form: Form;
  readonly changes: Changes;
  readonly heard: Readings;
  readonly picks: readonly ScalePick[];
}

/** The scales for a span. */
export interface Fitting {
  /** The one that is shown. */
  readonly scale: ScaleChoice;
  /** True where the player picked it. */
  readonly picked: boolean;
  /** Those that are suggested, best first. */
  readonly offered: readonly ScaleChoice[];
}

/** The scales for a span of the changes of the form; null where no chord sounds. One object for one answer. */
export function fittingAt({ form, changes, heard, picks }: ScaleSources, index: number): Fitting | null {
  const span = changes.spans[index];
  if (span?.chord == null) return null;
  const offered = offeredAt(changes, index, readingAt(heard, span.start));
  const pick = picks.length === 0 ? null : pickAt({ form, changes, picks }, index);
  return fitting(span.chord, span.treatment !== null, offered, pick);
}

/** The scale suggested first where only the changes that sound are known. */
export function firstAt(changes: Changes, index: number): ScaleChoice | null {
  return offeredAt(changes, index, null)[0] ?? null;
}

/** What a player has picked for the place where a span begins; it holds at every pass of its bar. */
export function pickAt(
  { form, changes, picks }: Pick<ScaleSources, 'form' | 'changes' | 'picks'>,
  index: number,
): ScalePick | null {
  const place = placeOf(form, changes, index);
  return picks.find(({ bar, at }) => bar === place?.bar && at === place.at) ?? null;
}

/** Where a span begins in the chart as written. */
export function placeOf(form: Form, changes: Changes, index: number): Omit<ScalePick, 'scale'> | null {
  const span = changes.spans[index];
  const bar = span && form.bars[span.bar];
  return bar === undefined ? null : { bar: bar.bar.index, at: (span!.start - bar.start) as ScalePick['at'] };
}

const known = new Map<string, readonly ScaleChoice[]>();
const pickedBefore = new WeakMap<readonly ScaleChoice[], Map<string, Fitting>>();
const MOST_KNOWN = 2000;

function fitting(
  chord: Chord,
  treated: boolean,
  offered: readonly ScaleChoice[],
  pick: ScalePick | null,
): Fitting | null {
  const holds = pick !== null && canPick(pick.scale, chord, treated, offered);
  const id = holds ? pick.scale : '';
  const before = pickedBefore.get(offered) ?? new Map<string, Fitting>();
  pickedBefore.set(offered, before);
  let answer = before.get(id);
  if (answer === undefined) {
    const own = holds
      ? (offered.find((choice) => choice.id === id) ?? scaleById(id, chord.root, chord))
      : null;
    const scale = own ?? offered[0];
    if (scale === undefined) return null;
    answer = { scale, picked: own !== null, offered };
    before.set(id, answer);
  }
  return answer;
}

function offeredAt(changes: Changes, index: number, reading: FunctionReading | null): readonly ScaleChoice[] {
  const { spans } = changes;
  const span = spans[index]!;
  const previous = spans[(index + spans.length - 1) % spans.length]!.chord;
  const next = spans[(index + 1) % spans.length]!.chord;
  const key = [
    span.chord?.text,
    span.treatment?.kind,
    previous?.text,
    next?.text,
    reading?.key.tonic,
    reading?.key.mode,
    reading?.kind,
  ].join(' ');
  const before = known.get(key);
  if (before !== undefined) return before;
  if (known.size > MOST_KNOWN) known.clear();
  const offered = suggestAt(changes, index, reading);
  known.set(key, offered);
  return offered;
}
