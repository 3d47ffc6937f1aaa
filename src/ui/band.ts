/** The code that plays: it comes once the page stands, or with the first press of Play. */

export type Band = typeof import('../engine/playing.ts');

let coming: Promise<Band> | null = null;
let here: Band | null = null;

/** Fetches it, at the first call; rejects where it cannot be had, and the next call tries again. */
export function fetchBand(): Promise<Band> {
  coming ??= import('../engine/playing.ts').then(
    (band) => (here = band),
    (reason: unknown) => {
      coming = null;
      throw reason;
    },
  );
  return coming;
}

/** The code, once it is here; null before. */
export const bandHere = (): Band | null => here;
