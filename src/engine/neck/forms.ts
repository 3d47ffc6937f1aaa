import { midi, type Finger } from '../units/index.ts';
import { checkNeck } from './notes.ts';
import type { FormNote, FormOptions, NeckSetting, ScaleForm, Tone } from './types.ts';

/**
 * The forms of a scale on a neck, every place they fit, from the lowest up. Each has every pitch of the
 * scale between its lowest and its highest just once.
 * @param tones the notes of the scale, root first, e.g. the `notes` of a `ScaleChoice`
 * @throws RangeError for a neck that cannot be, or a scale without notes
 */
export function scaleForms(
  tones: readonly Tone[],
  neck: NeckSetting,
  _options: FormOptions = {},
): readonly ScaleForm[] {
  checkNeck(neck);
  if (tones.length === 0) throw new RangeError('a scale has notes');
  const { tuning, capo, lastFret } = neck;
  const lowest = tuning[0]!;
  const forms: ScaleForm[] = [];
  const root = (((tones[0]!.pc - lowest) % 12) + 12) % 12;
  for (let start = capo; start + 4 <= lastFret; start++) {
    const number = [0, 2, 5, 7, 9].indexOf((start - root + 13) % 12) + 1;
    if (number === 0) continue;
    const notes: FormNote[] = [];
    let pitch = lowest + start;
    for (const [i, open] of tuning.entries()) {
      for (; pitch <= open + start + 4; pitch++) {
        if (i + 1 < tuning.length && pitch >= tuning[i + 1]! + start) break;
        const tone = tones.find(({ pc }) => pc === pitch % 12);
        if (!tone) continue;
        const fret = pitch - open;
        const finger = Math.min(4, fret - start + 1) as Finger;
        notes.push({ ...tone, string: tuning.length - i, fret, pitch: midi(pitch), finger });
      }
    }
    const frets = notes.map(({ fret }) => fret);
    forms.push({
      number,
      label: `Form ${number}`,
      notes,
      firstFret: Math.min(...frets),
      lastFret: Math.max(...frets),
      position: Math.max(1, start),
    });
  }
  return forms;
}
