import {
  chordName,
  isDominant,
  readKeys,
  type Changes,
  type Chord,
  type FunctionReading,
  type Key,
} from '../harmony/index.ts';
import { shiftsFor, type ScaleContext } from './context.ts';
import { SUPERIMPOSED } from './data.ts';
import { isSparse, leftOut, lostFifth, strayCost, suitsBlues } from './fit.ts';
import {
  LEFT_OUT,
  NEAR_ALTERED,
  OFFER,
  OVERLAY_RANK,
  PALETTES,
  SPARSE_RANK,
  TREATED,
  type Shift,
} from './palette.ts';
import { findScale, scaleOver, type PlayableScale } from './scale.ts';
import type { ScaleChoice } from './types.ts';

interface Ranked {
  readonly scale: PlayableScale;
  readonly rank: number;
  readonly why: string;
}

/**
 * The scales that fit a chord where it stands, best first: three to six, named from the chord's own root.
 * The scale of a treatment leads, and the altered scale wherever the symbol says alt. All others hold the
 * tones the symbol asks for and are ranked by where the chord goes and by the local key; where these are
 * fewer than three, the nearest ones follow and say what they leave out.
 */
export function suggestScales(chord: Chord, context: ScaleContext): readonly ScaleChoice[] {
  const fitting = behindTheFullest([...leading(chord, context), ...candidates(chord, context)], chord);
  const first = fitting.reduce((least, { rank }) => Math.min(least, Math.max(rank, 0)), Infinity);
  const least = chord.altered ? OFFER.leastAltered : OFFER.least;
  const offered: Ranked[] = [];
  const offer = (entry: Ranked, isWanted: boolean): void => {
    const isNew = !offered.some(({ scale }) => scale.id === entry.scale.id);
    if (isNew && isWanted && offered.length < OFFER.most) offered.push(entry);
  };
  for (const entry of fitting) offer(entry, offered.length < least || entry.rank - first <= OFFER.within);
  for (const entry of nearest(chord, context)) offer(entry, offered.length < least);
  return offered.map(({ scale, why }) => scaleOver(scale, chord, sentence(why, chord, context)));
}

/**
 * The scales for every span of the changes, each in its local key and between its neighbours, the form
 * coming round to its beginning.
 * @returns a list for each span; empty where there is no chord
 */
export function suggestThrough(changes: Changes, home?: Key): readonly (readonly ScaleChoice[])[] {
  const readings = home ? readKeys(changes, home) : readKeys(changes);
  return changes.spans.map((_, index) => suggestAt(changes, index, readings[index] ?? null));
}

/**
 * The scales for one span of the changes, between its neighbours, the form coming round to its beginning.
 * @param reading how the span is heard, as `readKeys` tells it; null where that is not known
 * @returns empty where there is no chord
 * @throws RangeError when the changes have no span `index`
 */
export function suggestAt(
  { spans }: Changes,
  index: number,
  reading: FunctionReading | null,
): readonly ScaleChoice[] {
  const span = spans[index];
  if (span === undefined) throw new RangeError(`no span ${index} among ${spans.length}`);
  if (span.chord === null) return [];
  return suggestScales(span.chord, {
    treatment: span.treatment?.kind ?? null,
    previous: spans[(index + spans.length - 1) % spans.length]!.chord,
    next: spans[(index + 1) % spans.length]!.chord,
    key: reading?.key ?? null,
    reading,
  });
}

/** The scale that leads whatever else is said. */
function leading(chord: Chord, { treatment }: ScaleContext): readonly Ranked[] {
  const kind = chord.altered ? 'altered' : treatment;
  const treated = kind !== null && isDominant(chord) ? TREATED.get(kind) : undefined;
  return treated ? [{ scale: findScale(treated.id)!, rank: -10, why: treated.why }] : [];
}

/** The scales of the chord's palette that hold all its tones, and their overlays. */
function candidates(chord: Chord, context: ScaleContext): readonly Ranked[] {
  const ranked = palette(chord, context).filter(({ scale }) => leftOut(scale, chord).length === 0);
  return [...ranked, ...overlays(chord, ranked)];
}

/**
 * The scales that come nearest to holding a chord's tones, and say what they leave out: natural degrees
 * only, since to leave out an alteration is to contradict it. Over an alt chord those players go to.
 */
function nearest(chord: Chord, context: ScaleContext): readonly Ranked[] {
  if (chord.altered) return NEAR_ALTERED.map(({ id, rank, why }) => ({ scale: findScale(id)!, rank, why }));
  return palette(chord, context)
    .map(({ scale, rank, why }) => ({ scale, rank, why, missing: leftOut(scale, chord) }))
    .filter(
      ({ scale, missing }) => !isSparse(scale) && missing.every((degree) => /^(?:9|11|13)$/.test(degree)),
    )
    .map(({ scale, rank, why, missing }) => ({
      scale,
      rank: rank + LEFT_OUT * missing.length,
      why: `${why}; it leaves out ${missing.join(' and ')}`,
    }))
    .sort((one, other) => one.rank - other.rank);
}

function palette(chord: Chord, context: ScaleContext): readonly Ranked[] {
  const shifts = shiftsFor(chord, context);
  return PALETTES[chord.family].flatMap(({ id, rank, why }) => {
    const scale = findScale(id)!;
    if (!suitsBlues(scale, chord)) return [];
    const moved = shifts.reduce((sum, { by }) => sum + (by[id] ?? 0), rank);
    const cost = strayCost(scale, chord, context.key ?? null) + lostFifth(scale, chord);
    return [{ scale, rank: moved + cost, why: because(id, shifts, why) }];
  });
}

/** Why a scale fits, led by what moved it up. */
function because(id: string, shifts: readonly Shift[], why: string): string {
  const raised = shifts.find(({ by }) => (by[id] ?? 0) < 0);
  return raised ? `${raised.why}: ${why}` : why;
}

/** Overlays of the scales already found; over dominants only those of the altered scale. */
function overlays(chord: Chord, ranked: readonly Ranked[]): readonly Ranked[] {
  return SUPERIMPOSED.flatMap(({ id, on, within, shape }) => {
    const base = ranked.find(({ scale }) => scale.id === within);
    const suits = chord.family !== 'dominant' || within === 'altered';
    const scale = findScale(id)!;
    if (!base || !suits || leftOut(scale, chord).length > 0) return [];
    const why = `five notes of the ${base.scale.name} scale: a ${shape.replaceAll('-', ' ')} from the ${on}`;
    return [{ scale, rank: base.rank + OVERLAY_RANK, why }];
  });
}

/** Best first, with scales of five or six notes behind the fullest one, but for a chord without a third. */
function behindTheFullest(ranked: readonly Ranked[], chord: Chord): readonly Ranked[] {
  const full = ranked.filter(({ scale }) => !isSparse(scale)).map(({ rank }) => rank);
  const floor = chord.family === 'power' || full.length === 0 ? -Infinity : Math.min(...full) + SPARSE_RANK;
  return ranked
    .map((entry) => (isSparse(entry.scale) ? { ...entry, rank: Math.max(entry.rank, floor) } : entry))
    .sort((one, other) => one.rank - other.rank);
}

function sentence(why: string, chord: Chord, { next }: ScaleContext): string {
  const filled = why
    .replaceAll('{chord}', chordName(chord))
    .replaceAll('{next}', next ? chordName(next) : '');
  if (/^[b#]\d/.test(filled)) return `It has ${filled}.`;
  return `${filled[0]!.toUpperCase()}${filled.slice(1)}.`;
}
