import { spell, type Chord, type Degree } from '../harmony/index.ts';
import { midi } from '../units/index.ts';
import { STYLES } from './data.ts';
import { placings, type Laid } from './placings.ts';
import { selections, selectionWith, tonesToHear, type Selection } from './selections.ts';
import { FAULTS, LIES_IN, type Placing } from './spacing.ts';
import type { Voicing, VoicingStyle } from './types.ts';

export interface CandidateOptions {
  readonly style: VoicingStyle;
  /** Lowest and highest MIDI key; the style's own when left out. */
  readonly range?: { readonly low: number; readonly high: number };
  /** Tensions that may be added unasked; the table's when left out. */
  readonly tensions?: readonly Degree[];
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
  /** Selection and highest key of each candidate, as the search reads them. */
  readonly choice: Int32Array;
  readonly top: Int32Array;
}

/** Below this a range has no room for every chord in close position: two octaves less a semitone. */
export const NARROWEST_RANGE = 23;

/**
 * Every voicing of a chord in a style: four notes in range, both guide tones among them, laid out
 * by the style's rule and free of faults. Where a chord cannot lie in the style, the rootless forms
 * stand in. Never empty.
 * @throws RangeError when the range is narrower than {@link NARROWEST_RANGE} semitones
 */
export function candidates(chord: Chord, options: CandidateOptions): readonly Voicing[] {
  return candidateSet(chord, options).list.map(({ voicing }) => voicing);
}

/** Sets are remembered by what they are made from; this many, then the oldest goes. */
const KEPT = 1024;
const sets = new Map<string, CandidateSet>();

/** As {@link candidates}, with the search's own view. Equal chords and options give sets of equal key. */
export function candidateSet(chord: Chord, options: CandidateOptions): CandidateSet {
  const { style, tensions } = options;
  const { low, high } = options.range ?? STYLES[style];
  if (!(high - low >= NARROWEST_RANGE) || low < 0 || high > 127) {
    throw new RangeError(
      `a voicing needs a range of at least ${NARROWEST_RANGE} semitones within 0 to 127, not ${low} to ${high}`,
    );
  }
  const key = `${chord.root}/${chord.bass} ${chord.degrees.join()} ${tensions?.join()} ${style} ${low} ${high}`;
  const known = sets.get(key);
  if (known !== undefined) return known;
  const made = build(key, chord, style, low, high, tensions);
  if (sets.size >= KEPT) sets.delete(sets.keys().next().value!);
  sets.set(key, made);
  return made;
}

function build(
  key: string,
  chord: Chord,
  style: VoicingStyle,
  low: number,
  high: number,
  tensions: readonly Degree[] | undefined,
): CandidateSet {
  const { span, root } = STYLES[style];
  const chosen = selections(chord, root, tensions);
  const hear = tonesToHear(chord);
  const lying = (fits: (placing: Placing) => boolean, width: number) =>
    chosen.map((selection, index) =>
      placings(chord, selection.degrees, low, high, width)
        .filter((placing) => fits(placing) && !FAULTS.some((fault) => fault(placing)))
        .map((placing) => candidate(chord, placing, selection, index)),
    );
  const own = lying(LIES_IN[style], span);
  const lacks = own.filter(({ length }) => length === 0).length;
  let list = own;
  // Every tone to be heard needs a voicing that holds it, whatever the style can do.
  if (lacks === own.length || (lacks > 0 && hear.length > 0)) {
    const forms = lying(LIES_IN.rootless, STYLES.rootless.span);
    list = own.map((voicings, index) => (voicings.length > 0 ? voicings : forms[index]!));
  }
  if (list.every(({ length }) => length === 0)) list = lying(() => true, 24);
  return candidateSetOf(key, list.flat(), hear, chosen);
}

function candidateSetOf(
  key: string,
  list: readonly Candidate[],
  hear: readonly Degree[],
  chosen: readonly Selection[],
): CandidateSet {
  return Object.freeze({
    key,
    list: Object.freeze(list),
    toHear: (1 << hear.length) - 1,
    selections: chosen,
    choice: Int32Array.from(list, ({ selection }) => selection),
    top: Int32Array.from(list, ({ voicing }) => voicing.pitches[3]!),
  });
}

/**
 * A set of voicings that come from elsewhere, e.g. the grips of a guitar. Those of the same degrees are
 * one choice.
 * @throws RangeError when there are none
 */
export function setAmong(chord: Chord, voicings: readonly Voicing[]): CandidateSet {
  if (voicings.length === 0) throw new RangeError(`no voicing to choose among for ${chord.text}`);
  const hear = tonesToHear(chord);
  const choices = new Map<string, Selection>();
  const list = voicings.map((voicing) => {
    const key = [...voicing.degrees].sort().join(' ');
    const known = choices.get(key) ?? selectionWith(chord, voicing.degrees, hear);
    choices.set(key, known);
    const selection = [...choices.keys()].indexOf(key);
    return Object.freeze({ voicing, selection, heard: known.heard, cost: known.cost });
  });
  const key = `${chord.root}/${chord.bass} ${chord.degrees.join()} among ${voicings.map(({ pitches }) => pitches.join(' ')).join()}`;
  return candidateSetOf(key, list, hear, [...choices.values()]);
}

/** Which four-note choice of a set a voicing is, or -1: it must name the same degrees over the same root. */
export function selectionOf(voicing: Voicing | null, set: CandidateSet): number {
  if (voicing === null) return -1;
  const named = (other: Voicing) =>
    other.names
      .map((name, i) => `${name}/${other.degrees[i]}`)
      .sort()
      .join(' ');
  const wanted = named(voicing);
  return set.list.find((candidate) => named(candidate.voicing) === wanted)?.selection ?? -1;
}

function candidate(chord: Chord, { keys, degrees }: Laid, selection: Selection, index: number): Candidate {
  const voicing = voicingOf(chord, keys, degrees);
  return Object.freeze({ voicing, selection: index, heard: selection.heard, cost: selection.cost });
}

/** Four keys of a chord as a voicing, spelled by their degrees. */
export const voicingOf = (chord: Chord, keys: readonly number[], degrees: readonly Degree[]): Voicing =>
  Object.freeze({
    pitches: Object.freeze(keys.map(midi)),
    names: Object.freeze(degrees.map((degree) => spell(chord.root, degree))),
    degrees: Object.freeze([...degrees]),
  });
