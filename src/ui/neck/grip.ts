import {
  gripsFor,
  gripsOf,
  pitchClass,
  type Chord,
  type Grip,
  type NeckSetting,
  type NoteEvent,
  type Voicing,
} from '../../engine/index.ts';

/** How a hand holds the chord. */
export interface HeldChord {
  readonly grip: Grip;
  /** True where it is just the voicing that the band plays; else another of the same chord. */
  readonly sounding: boolean;
}

/** How much a fret of travel weighs against the effort of a grip. Our choice: a hand stays where it can. */
const TRAVEL = 0.4;

/**
 * The grip to show: the voicing that sounds, where a hand can hold it on this neck; else an easy one of the
 * chord. Of several the one nearest to `near`. Null where there is none.
 * @param struck the notes of the chord that sounds, as the band plays them; empty while it rests
 * @param near the fret the hand is at
 */
export function gripFor(
  chord: Chord,
  struck: readonly NoteEvent[],
  { tuning, capo, lastFret }: NeckSetting,
  near: number,
): HeldChord | null {
  const options = { tuning: tuning.map((open) => open + capo), lastFret: Math.max(4, lastFret - capo) };
  const away = (grip: Grip): number => grip.effort + TRAVEL * Math.abs(grip.position + capo - near);
  const nearest = (grips: readonly Grip[]): Grip | null =>
    grips.reduce<Grip | null>((best, grip) => (best === null || away(grip) < away(best) ? grip : best), null);
  const voicing = voicingOf(struck);
  const own = voicing === null ? null : nearest(gripsOf(voicing, options));
  if (own !== null) return { grip: own, sounding: true };
  const other = nearest(gripsFor(chord, options));
  return other === null ? null : { grip: other, sounding: false };
}

/** The notes of one attack as a voicing; null unless every one is named. */
function voicingOf(struck: readonly NoteEvent[]): Voicing | null {
  if (struck.length !== 4) return null;
  const notes = struck.toSorted((a, b) => a.pitch - b.pitch);
  const named = notes.flatMap(({ pitch, name, degree }) =>
    name === null || degree === null || pitchClass(name) !== pitch % 12 ? [] : [{ pitch, name, degree }],
  );
  if (named.length < notes.length) return null;
  return {
    pitches: named.map(({ pitch }) => pitch),
    names: named.map(({ name }) => name),
    degrees: named.map(({ degree }) => degree as Voicing['degrees'][number]),
  };
}
