import {
  guideToneLines,
  targets,
  type Changes,
  type Chord,
  type GuideTone,
  type ScaleChoice,
  type Target,
} from '../../engine/index.ts';
import { fittingAt, type ScaleSources } from './fitting.ts';

/** More than that nobody aims at in one change. Our choice. */
const MOST = 4;

const known = new WeakMap<ScaleChoice, WeakMap<ScaleChoice, readonly Target[]>>();

/**
 * The notes that move into the next chord at the end of a span, best first and each note once; a note that
 * stays is told where a guide tone becomes one. Empty where the harmony does not change. The form comes
 * round to its beginning.
 */
export function movesAfter(sources: ScaleSources, index: number): readonly Target[] {
  const { spans } = sources.changes;
  const there = (index + 1) % spans.length;
  const from = spans[index]?.chord ?? null;
  const to = spans[there]?.chord ?? null;
  const leaving = fittingAt(sources, index)?.scale;
  const coming = fittingAt(sources, there)?.scale;
  if (from === null || to === null || leaving === undefined || coming === undefined) return [];
  return movesInto({ chord: from, scale: leaving }, { chord: to, scale: coming });
}

/** A chord and the scale it is played with. */
interface Sounded {
  readonly chord: Chord;
  readonly scale: ScaleChoice;
}

/** The notes that move from one chord into another, as {@link movesAfter} tells them. */
export function movesInto(from: Sounded, to: Sounded): readonly Target[] {
  if (from.chord.text === to.chord.text) return [];
  const [leaving, coming] = [from.scale, to.scale];
  const before = known.get(leaving) ?? new WeakMap<ScaleChoice, readonly Target[]>();
  known.set(leaving, before);
  let moves = before.get(coming);
  if (moves === undefined) {
    moves = eachOnce(targets(from, to));
    before.set(coming, moves);
  }
  return moves;
}

function eachOnce(all: readonly Target[]): readonly Target[] {
  const chosen: Target[] = [];
  for (const target of all) {
    const { from, to, semitones } = target;
    const taken = chosen.some((other) => other.from.pc === from.pc || other.to.pc === to.pc);
    const stays = semitones === 0 && (from.role !== 'guide' || to.role !== 'guide');
    if (!taken && !stays && chosen.length < MOST) chosen.push(target);
  }
  return chosen;
}

/** The guide tones of one chord and where they go in the next, e.g. 7 into 3; those that move come first. */
export function guideTonesInto(
  changes: Changes,
  from: number,
  to: number,
): readonly { readonly from: GuideTone; readonly to: GuideTone }[] {
  const pair = [changes.spans[from], changes.spans[to]];
  if (!pair.every((span): span is NonNullable<typeof span> & { chord: Chord } => span?.chord != null))
    return [];
  return guideToneLines({ ...changes, spans: pair })
    .flatMap(([here, there]) =>
      here === undefined || there === undefined ? [] : [{ from: here, to: there }],
    )
    .sort((a, b) => Number(a.to.move === 0) - Number(b.to.move === 0));
}
