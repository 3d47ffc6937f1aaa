import { groundOf } from './lay.ts';
import { checkNeck } from './notes.ts';
import { alongOneString, threePerString } from './per-string.ts';
import { positionForms } from './positions.ts';
import type { FormOptions, NeckSetting, ScaleForm, Tone } from './types.ts';

/**
 * The forms of a scale on a neck, every place where they fit, from the lowest up. Each has every pitch of the
 * scale between its lowest and its highest just once; in the views under one hand they have all notes of
 * the scale from the capo to the last fret between them.
 * @param tones the notes of the scale, root first, e.g. the `notes` of a `ScaleChoice`
 * @throws RangeError for a neck that cannot be, a scale without notes, or a string the neck does not have
 */
export function scaleForms(
  tones: readonly Tone[],
  neck: NeckSetting,
  { view = 'position', string = 1 }: FormOptions = {},
): readonly ScaleForm[] {
  checkNeck(neck);
  const count = neck.tuning.length;
  if (tones.length === 0) throw new RangeError('a scale has notes');
  if (!Number.isInteger(string) || string < 1 || string > count) {
    throw new RangeError(`a string has a number from 1 to ${count}, not ${string}`);
  }
  const root = tones[0]!.pc;
  switch (view) {
    case 'position':
      return positionForms(groundOf(tones, neck), root);
    case 'three-per-string':
      return threePerString(groundOf(tones, neck), root);
    case 'two-strings':
      return positionForms(groundOf(tones, neck, [string, string === count ? string - 1 : string + 1]), root);
    case 'one-string':
      return alongOneString(groundOf(tones, neck, [string]));
  }
}
