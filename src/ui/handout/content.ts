import {
  isDominant,
  scaleForms,
  type Chord,
  type NeckSetting,
  type PrintedForm,
  type ScaleChoice,
  type ScaleForm,
  type Ticks,
} from '../../engine/index.ts';
import { fittingAt, placeOf, type ScaleSources } from '../harmony/fitting.ts';

/** A chord at a written place, and the scale that is played over it. */
export interface PlacedScale {
  /** Index of the written bar, and ticks from its start. */
  readonly bar: number;
  readonly at: Ticks;
  readonly chord: Chord;
  readonly scale: ScaleChoice;
  /** True where a treatment colours it, or its own symbol says so. */
  readonly coloured: boolean;
}

/** The chords as written that have a scale, each place once, in the order played. */
export function scalesOf(sources: ScaleSources): readonly PlacedScale[] {
  const { changes, form } = sources;
  const seen = new Set<string>();
  return changes.spans.flatMap((span, index) => {
    const place = placeOf(form, changes, index);
    const fitting = fittingAt(sources, index);
    const key = `${place?.bar} ${place?.at}`;
    if (place === null || fitting === null || span.chord === null || seen.has(key)) return [];
    seen.add(key);
    const treated = span.treatment !== null && span.treatment.kind !== 'plain';
    return [{ ...place, chord: span.chord, scale: fitting.scale, coloured: treated || span.chord.altered }];
  });
}

/** Each scale once, where it comes first. */
export function differentScales(places: readonly PlacedScale[]): readonly PlacedScale[] {
  const seen = new Set<string>();
  return places.filter(({ scale: { name } }) => !seen.has(name) && seen.add(name));
}

/** More scales than these are no longer looked through. Our choice. */
const MOST_SCALES = 12;

/** The scales to print: all of them, or where they are too many those of the coloured chords. */
export function scalesToPrint(scales: readonly PlacedScale[]): readonly PlacedScale[] {
  const coloured = scales.filter((place) => place.coloured);
  return scales.length > MOST_SCALES && coloured.length > 0 ? coloured : scales;
}

/**
 * The chord whose forms are shown where none were chosen: the first dominant that is coloured, else the first
 * dominant, else the first chord.
 */
export function chordToShow(places: readonly PlacedScale[]): PlacedScale | null {
  return (
    places.find(({ coloured, chord }) => coloured && isDominant(chord)) ??
    places.find(({ chord }) => isDominant(chord)) ??
    places[0] ??
    null
  );
}

/** The forms of a scale, each once at its lowest place, from the lowest up the neck. */
export function formsOnce(scale: ScaleChoice, neck: NeckSetting): readonly ScaleForm[] {
  const seen = new Set<number>();
  return scaleForms(scale.notes, neck).filter(({ number }) => !seen.has(number) && seen.add(number));
}

/** Forms of one chord's scale. */
export interface FormSet {
  readonly place: PlacedScale;
  readonly forms: readonly ScaleForm[];
}

/** The forms that are printed: those chosen, or all of the chord that matters most. */
export function formSets(
  places: readonly PlacedScale[],
  chosen: readonly PrintedForm[],
  neck: NeckSetting,
): readonly FormSet[] {
  const sets = places.flatMap((place): FormSet[] => {
    const numbers = chosen.filter(({ bar, at }) => bar === place.bar && at === place.at);
    if (numbers.length === 0) return [];
    const forms = formsOnce(place.scale, neck).filter(({ number }) =>
      numbers.some(({ form }) => form === number),
    );
    return forms.length === 0 ? [] : [{ place, forms }];
  });
  if (sets.length > 0) return sets;
  const place = chordToShow(places);
  return place === null ? [] : [{ place, forms: formsOnce(place.scale, neck) }];
}
