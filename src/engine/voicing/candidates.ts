import { degreeSemitones, pitchClass, spell, type Chord, type Degree } from '../harmony/index.ts';
import { midi } from '../units/index.ts';
import { STYLES } from './data.ts';
import { guidePair, selections, tonesToHear, type Selection } from './selections.ts';
import { FAULTS, isClose, LIES_IN, type Placing } from './spacing.ts';
import type { Voicing, VoicingStyle } from './types.ts';

export interface CandidateOptions {
  readonly style: VoicingStyle;
  /** Lowest and highest MIDI key; the style's own when left out. */
  readonly range?: { readonly low: number; readonly high: number };
}

/** A voicing with what the search wants to know about it. */
export interface Candidate {
  readonly voicing: Voicing;
  /** Index of its four-note choice among the chord's; two with the same index hold the same four degrees. */
  readonly selection: number;
  readonly heard: number;
  readonly cost: number;
}

/** The candidates of one chord in one style. */
export interface CandidateSet {
  /** Says what the set was made from: sets with the same key are the same. */
  readonly key: string;
  readonly list: readonly Candidate[];
  /** All bits of {@link Candidate.heard} together; 0 where a chord has no such tones. */
  readonly toHear: number;
  readonly selections: readonly Selection[];
}

/** Below this a range has no room for every chord in close position: two octaves less a semitone. */
export const NARROWEST_RANGE = 23;

/**
 * Every voicing of a chord in a style: four notes in range, both guide tones among them, laid out
 * by the style's rule and free of faults. Where a chord cannot lie in the style, close position
 * stands in. Never empty.
 * @throws RangeError when the range is narrower than {@link NARROWEST_RANGE} semitones
 */
export function candidates(chord: Chord, options: CandidateOptions): readonly Voicing[] {
  return candidateSet(chord, options).list.map(({ voicing }) => voicing);
}

const KEPT = 1024;
const sets = new Map<string, CandidateSet>();

/** As {@link candidates}, with the search's own view. The same chord and options give the same object. */
export function candidateSet(chord: Chord, options: CandidateOptions): CandidateSet {
  const { low, high } = options.range ?? STYLES[options.style];
  if (!(high - low >= NARROWEST_RANGE) || low < 0 || high > 127) {
    throw new RangeError(
      `a voicing needs a range of at least ${NARROWEST_RANGE} semitones within 0 to 127, not ${low} to ${high}`,
    );
  }
  const key = [chord.root, chord.bass ?? '', ...chord.degrees, chord.altered, options.style, low, high].join(
    ' ',
  );
  const known = sets.get(key);
  if (known !== undefined) return known;
  const made = build(key, chord, options.style, low, high);
  if (sets.size >= KEPT) sets.clear();
  sets.set(key, made);
  return made;
}

function build(key: string, chord: Chord, style: VoicingStyle, low: number, high: number): CandidateSet {
  const { span, root } = STYLES[style];
  const chosen = selections(chord, root);
  const hear = tonesToHear(chord);
  const layOut = (selection: Selection, index: number, fits: (placing: Placing) => boolean, width: number) =>
    placings(chord, selection.degrees, low, high, width)
      .filter((placing) => fits(placing) && !FAULTS.some((fault) => fault(placing)))
      .map((placing) => candidate(chord, placing, selection, index));
  const all = (fits: (placing: Placing) => boolean, width: number) =>
    chosen.map((selection, index) => layOut(selection, index, fits, width));

  const own = all(LIES_IN[style], span);
  // Every tone to be heard needs a voicing that holds it, whatever the style can do.
  const filled = own.map((list, index) =>
    list.length === 0 && hear.length > 0 ? layOut(chosen[index]!, index, isClose, 11) : list,
  );
  const list = [filled, () => all(isClose, 11), () => all(() => true, 24)].reduce<Candidate[]>(
    (found, next) => (found.length > 0 ? found : (typeof next === 'function' ? next() : next).flat()),
    [],
  );
  if (list.length === 0) throw new RangeError(`no voicing of ${chord.text} between ${low} and ${high}`);
  return Object.freeze({
    key,
    list: Object.freeze(list),
    toHear: (1 << hear.length) - 1,
    selections: chosen,
  });
}

interface Laid extends Placing {
  readonly degrees: readonly Degree[];
}

/** Every way to lay four degrees out between two keys, lowest voice first. */
function placings(
  chord: Chord,
  degrees: readonly Degree[],
  low: number,
  high: number,
  width: number,
): readonly Laid[] {
  const guides = guidePair(chord);
  const root = pitchClass(chord.root);
  const keysOf = degrees.map((degree) => {
    const first = low + ((((root + degreeSemitones(degree) - low) % 12) + 12) % 12);
    return Array.from(
      { length: Math.max(0, Math.floor((high - first) / 12) + 1) },
      (_, octave) => first + 12 * octave,
    );
  });
  const found = new Map<string, Laid>();
  const place = (voice: number, keys: readonly number[]): void => {
    if (voice < degrees.length) {
      for (const key of keysOf[voice]!) if (!keys.includes(key)) place(voice + 1, [...keys, key]);
      return;
    }
    const order = keys.map((_, i) => i).sort((a, b) => keys[a]! - keys[b]!);
    const sorted = order.map((i) => keys[i]!);
    if (sorted[3]! - sorted[0]! > width) return;
    const named = order.map((i) => degrees[i]!);
    found.set(sorted.join(' '), {
      keys: sorted,
      degrees: named,
      guides: named.map((degree) => guides.includes(degree)),
      roots: named.map((degree) => degree === '1'),
    });
  };
  place(0, []);
  return [...found.values()].sort((a, b) => compare(a.keys, b.keys));
}

function candidate(chord: Chord, { keys, degrees }: Laid, selection: Selection, index: number): Candidate {
  const voicing: Voicing = Object.freeze({
    pitches: Object.freeze(keys.map(midi)),
    names: Object.freeze(degrees.map((degree) => spell(chord.root, degree))),
    degrees: Object.freeze(degrees),
  });
  return Object.freeze({ voicing, selection: index, heard: selection.heard, cost: selection.cost });
}

function compare(a: readonly number[], b: readonly number[]): number {
  const at = a.findIndex((key, i) => key !== b[i]);
  return at < 0 ? 0 : a[at]! - b[at]!;
}
