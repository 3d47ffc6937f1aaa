import { midi } from '../units/index.ts';
import { fingersAlong, fingersFor } from './fingers.ts';
import type { FormNote, NeckSetting, ScaleForm, Tone } from './types.ts';
import { indexAt } from './windows.ts';

/** A scale and the neck it is laid on, ready to be searched. */
export interface Ground {
  readonly neck: NeckSetting;
  /** By pitch class; undefined where the scale has no such note. */
  readonly tones: readonly (Tone | undefined)[];
  /** The strings in ascending order of their open pitch, by number. */
  readonly strings: readonly number[];
  /** Their open pitches, without capo. */
  readonly open: readonly number[];
}

/** @param only the strings to play on, by number; all when left out */
export function groundOf(tones: readonly Tone[], neck: NeckSetting, only?: readonly number[]): Ground {
  const { tuning } = neck;
  const pitchOf = (string: number): number => tuning[tuning.length - string]!;
  const strings = tuning
    .map((_, i) => tuning.length - i)
    .filter((string) => only?.includes(string) !== false)
    .sort((a, b) => pitchOf(a) - pitchOf(b) || b - a);
  return {
    neck,
    tones: Array.from({ length: 12 }, (_, pc) => tones.find((tone) => tone.pc === pc)),
    strings,
    open: strings.map(pitchOf),
  };
}

/**
 * A form with its notes named and its fingers found.
 * @param frets for each string of the ground its frets in ascending order
 * @param hand whether the hand rests in one position or moves along
 */
export function formOf(
  { neck, tones, strings, open }: Ground,
  { number, label = `Form ${number}` }: { readonly number: number; readonly label?: string },
  frets: readonly (readonly number[])[],
  hand: 'rests' | 'moves' = 'rests',
): ScaleForm {
  const { capo } = neck;
  const all = frets.flat();
  const pressed = (hand === 'rests' ? all : frets[0]!).filter((fret) => fret > capo);
  const position = pressed.length === 0 ? capo + 1 : indexAt(pressed);
  const notes = frets.flatMap((own, i): FormNote[] => {
    const fingers = hand === 'rests' ? fingersFor(own, position, capo) : fingersAlong(own, capo);
    return own.map((fret, at) => {
      const pitch = midi(open[i]! + fret);
      // Named one by one: a form is laid at every change of chord, and spreading takes several times as long.
      const { degree, name, plain, pc, role } = tones[pitch % 12]!;
      return { degree, name, plain, pc, role, string: strings[i]!, fret, pitch, finger: fingers[at]! };
    });
  });
  return {
    number,
    label,
    notes,
    firstFret: Math.min(...all),
    lastFret: Math.max(...all),
    position,
  };
}

/** The form whose middle lies nearest to that of a stretch of frets; the lower of two; null of none. */
export function nearestForm(
  forms: readonly ScaleForm[],
  { firstFret, lastFret }: Pick<ScaleForm, 'firstFret' | 'lastFret'>,
): ScaleForm | null {
  const away = (form: ScaleForm): number => Math.abs(form.firstFret + form.lastFret - firstFret - lastFret);
  return forms.reduce<ScaleForm | null>(
    (best, form) => (best === null || away(form) < away(best) ? form : best),
    null,
  );
}
