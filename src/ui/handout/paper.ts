/** Paper that pages are printed on, mm. A4 as in ISO 216, Letter as in ANSI/ASME Y14.1. */
export const PAPERS = {
  a4: { name: 'A4', width: 210, height: 297 },
  letter: { name: 'Letter', width: 215.9, height: 279.4 },
} as const;
export type PaperName = keyof typeof PAPERS;

/** CSS px to the millimetre. CSS Values and Units, 6.2. */
export const PX = 96 / 25.4;

/** How wide what is printed is, px: 180 mm, so that both papers have 15 mm at the least on either side. */
export const WIDTH = 680;
/** Above and beneath it, mm. Our choice, because it is more than any printer leaves white. */
export const MARGIN = 15;
/** The foot of each page, within its margins, px. */
export const FOOT = 22;

/** The thinnest line that prints sharp on any printer, px: 0.3 mm. */
export const HAIR = 1.15;

/** The height a page has for what is printed, px. */
export const roomOf = (paper: PaperName): number => (PAPERS[paper].height - 2 * MARGIN) * PX - FOOT;

/** Where Letter is the usual paper, by region. From memory: CLDR, `paperSize` of `supplementalData`. */
const LETTER = ['US', 'CA', 'MX', 'PH', 'CL', 'CO', 'VE', 'CR', 'GT', 'NI', 'PA', 'SV', 'PR', 'BZ'];

/** The usual paper of whoever reads a language of a region, e.g. "en-US". */
export function usualPaper(language: string): PaperName {
  const region = /-([A-Z]{2})(?:-|$)/.exec(language)?.[1];
  return region !== undefined && LETTER.includes(region) ? 'letter' : 'a4';
}
