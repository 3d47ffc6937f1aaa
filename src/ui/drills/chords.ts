import { isDominant, type Chord, type DrillSource, type KeptDrill } from '../../engine/index.ts';
import { indexAt } from '../ribbon/layout.ts';

/** A chord of the chart that a drill can be made over. */
export interface PlacedChord {
  readonly place: NonNullable<KeptDrill['place']>;
  readonly chord: Chord;
  /** Where it begins in the form, at its first pass. */
  readonly start: number;
}

export const isSamePlace = (a: KeptDrill['place'], b: KeptDrill['place']): boolean =>
  a === b || (a !== null && b !== null && a.bar === b.bar && a.at === b.at);

/** The chords of a chart where they begin, each written place once; what goes on is one chord. */
export function chordsOf({ form, changes }: DrillSource): readonly PlacedChord[] {
  const found: PlacedChord[] = [];
  let before: string | null = null;
  for (const { chord, start, bar } of changes.spans) {
    const played = form.bars[bar];
    const goesOn = chord !== null && chord.text === before;
    before = chord?.text ?? null;
    if (chord === null || played === undefined || goesOn) continue;
    const place = { bar: played.bar.index, at: (start - played.start) as PlacedChord['place']['at'] };
    if (!found.some((known) => isSamePlace(known.place, place))) found.push({ place, chord, start });
  }
  return found;
}

/** The chord that sounds at a tick of the form, else the last one before it; null in a chart without chords. */
export function chordAt(chords: readonly PlacedChord[], tick: number): PlacedChord | null {
  return chords[Math.max(0, indexAt(chords, tick))] ?? null;
}

/** What is practised from a tick of the form: its chord where that is a dominant, else the next dominant there is. */
export function dominantFrom(chords: readonly PlacedChord[], tick: number): PlacedChord | null {
  const here = chordAt(chords, tick);
  if (here === null) return null;
  const index = chords.indexOf(here);
  const inTurn = [...chords.slice(index), ...chords.slice(0, index)];
  return inTurn.find(({ chord }) => isDominant(chord)) ?? here;
}
