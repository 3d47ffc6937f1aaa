import {
  notesOnNeck,
  type Grip,
  type NeckNote,
  type NeckSetting,
  type ScaleForm,
  type Tone,
} from '../../engine/index.ts';

/** A note as the neck shows it. */
export interface Mark {
  /** "string:fret", the same place under every chord. */
  readonly key: string;
  readonly note: NeckNote;
  /** In full, or only hinted at because it lies outside the form. */
  readonly full: boolean;
  /** 1 to 4, 0 for an open string; null where no form says. */
  readonly finger: number | null;
  /** Part of the grip that is shown. */
  readonly gripped: boolean;
}

/** Where a note goes when the chord changes. */
export interface Hint {
  readonly key: string;
  readonly string: number;
  readonly fret: number;
  readonly tone: Tone;
  /** The fret on the same string it is reached from; null where nothing near leads there. */
  readonly from: number | null;
}

const keyOf = ({ string, fret }: { readonly string: number; readonly fret: number }): string =>
  `${string}:${fret}`;

/**
 * The notes shown: all of them, or those of a form in full and the others hinted at. The notes of a grip are
 * in full wherever they lie.
 */
export function marksOn(
  tones: readonly Tone[],
  neck: NeckSetting,
  form: ScaleForm | null,
  grip: Grip | null,
): readonly Mark[] {
  const fingers = new Map(form?.notes.map((note) => [keyOf(note), note.finger]));
  const gripped = new Map(
    grip?.notes.map((stop, i) => {
      const fret = stop.fret + neck.capo;
      return [keyOf({ string: stop.string, fret }), { finger: stop.finger, voice: i }];
    }),
  );
  const marks = notesOnNeck(tones, neck).map((note): Mark => {
    const key = keyOf(note);
    const held = gripped.get(key);
    gripped.delete(key);
    return {
      key,
      note,
      full: held !== undefined || form === null || fingers.has(key),
      finger: held?.finger ?? fingers.get(key) ?? null,
      gripped: held !== undefined,
    };
  });
  // What a grip has beside the scale, e.g. where a scale is picked that lacks a chord tone.
  for (const [key, { finger, voice }] of gripped) {
    const { voicing, notes } = grip!;
    const name = voicing.names[voice]!;
    const pitch = voicing.pitches[voice]!;
    const { string, fret } = notes[voice]!;
    const tone = {
      degree: voicing.degrees[voice]!,
      name,
      plain: name,
      pc: pitch % 12,
      role: 'scale' as const,
    };
    marks.push({
      key,
      note: { ...tone, string, fret: fret + neck.capo, pitch },
      full: true,
      finger,
      gripped: true,
    });
  }
  return marks;
}

/** A move looks for its target this many frets up or down the same string. */
const REACH = 3;

/**
 * Where the notes lie that the coming chord is reached by, among the frets given, each with the note on its
 * string that leads there.
 */
export function hintsOn(
  moves: readonly { readonly from: Tone; readonly to: Tone }[],
  neck: NeckSetting,
  [first, last]: readonly [number, number],
): readonly Hint[] {
  const steps = Array.from({ length: 2 * REACH + 1 }, (_, i) => (i % 2 === 0 ? i : -i - 1) / 2);
  return moves.flatMap(({ from, to }) =>
    notesOnNeck([to], neck)
      .filter(({ fret }) => fret >= first && fret <= last)
      .map((note): Hint => {
        const { string, fret, pitch } = note;
        const step = steps.find(
          (by) => (pitch + by) % 12 === from.pc && fret + by >= first && fret + by <= last,
        );
        return { key: keyOf(note), string, fret, tone: to, from: step ? fret + step : null };
      }),
  );
}
