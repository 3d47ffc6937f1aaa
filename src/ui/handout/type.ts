import { CHORD_FACE, TEXT_FACE } from '../notation/faces.ts';

/** Attributes of a text in a figure: no style sheet comes along when a figure is saved. */
export const inText = (size: number, weight = 560) => ({
  'font-family': TEXT_FACE,
  'font-size': size,
  'font-weight': weight,
  fill: '#000',
});

export const inChords = (size: number, weight = 680, stretch = 100) => ({
  'font-family': CHORD_FACE,
  'font-size': size,
  'font-weight': weight,
  'font-stretch': `${stretch}%`,
  fill: '#000',
});
