import type { NeckSetting, ScaleForm } from '../../engine/index.ts';

/** Lengths in px. */
export const FORM_TITLE = 18;
const STRING_GAP = 21;
/** Beneath the strings the numbers of the frets; see `neck/geometry.ts`. */
const AROUND = 24;

/** Side by side on the page, and what lies between them. */
export const FORMS_ACROSS = 3;
export const FORM_GAP = { across: 16, down: 14 };

export const formHeight = (strings: number): number => FORM_TITLE + strings * STRING_GAP + AROUND;

/** As many frets as every form is shown with where the neck has them, so that all are drawn alike. */
const FEWEST = 6;

/** The frets a form is shown with, the open strings among them where the hand lies at the nut or the capo. */
export function fretsOf(
  { firstFret, lastFret }: Pick<ScaleForm, 'firstFret' | 'lastFret'>,
  { capo, lastFret: end }: NeckSetting,
): readonly number[] {
  const from = firstFret <= capo + 1 ? capo : firstFret;
  const to = Math.max(lastFret, Math.min(end, (from === capo ? from : from - 1) + FEWEST));
  return Array.from({ length: to - from + 1 }, (_, i) => from + i);
}
