import { AWKWARD, FORMS_PER_OCTAVE } from './hand.ts';
import { shapesAt, type InScale, type Shape } from './windows.ts';

/** The forms of a scale on a neck without ends, and what else a hand could do there. */
export interface Cover {
  /** After so many frets the scale, and each form with it, repeats: 12, or less for a symmetrical scale. */
  readonly period: number;
  /** From the lowest up, all beginning within one period. */
  readonly forms: readonly Shape[];
  /** By their lowest fret, all shapes that begin within one period. */
  readonly shapes: readonly (readonly Shape[])[];
}

/** How many shapes of each fret are tried: the least awkward, and more where those leave notes out. */
const TRIED: readonly number[] = [3, 12];

/**
 * The forms that cover a neck: five to an octave, spread evenly and as little awkward as can be, so that
 * every note of the scale lies in one of them. More where five leave notes out.
 * @param open semitones of the open strings above the lowest one, ascending
 */
export function coverNeck(open: readonly number[], inScale: InScale): Cover {
  const period = [1, 2, 3, 4, 6, 12].find((step) => repeatsAfter(step, inScale))!;
  const shapes = Array.from({ length: period }, (_, low) => shapesAt(low, open, inScale));
  const needed = open.map((key) => bits(period, (fret) => inScale(fret + key)));
  const least = Math.max(1, Math.round((FORMS_PER_OCTAVE * period) / 12));
  for (const tried of TRIED) {
    const choice = shapes.map((all) => all.slice(0, tried));
    for (let count = least; count <= Math.min(period, least + 1); count++) {
      const forms = cheapest(choice, needed, count, period);
      if (forms !== null) return { period, shapes, forms };
    }
  }
  return { period, shapes, forms: [] };
}

const repeatsAfter = (step: number, inScale: InScale): boolean =>
  Array.from({ length: 12 }, (_, pitch) => inScale(pitch) === inScale(pitch + step)).every(Boolean);

const bits = (period: number, has: (fret: number) => boolean): number => {
  let set = 0;
  for (let fret = 0; fret < period; fret++) if (has(fret)) set |= 1 << fret;
  return set;
};

interface Candidate {
  readonly shape: Shape;
  /** For each string the frets it has, within the period. */
  readonly has: readonly number[];
}

/** So many shapes, one to a fret at most, that together have all that is needed; the cheapest such. */
function cheapest(
  choice: readonly (readonly Shape[])[],
  needed: readonly number[],
  count: number,
  period: number,
): readonly Shape[] | null {
  const even = period / count;
  const unevenness = (gap: number): number => AWKWARD.uneven * (gap - even) ** 2;
  const candidates = choice.map((shapes) =>
    shapes.map((shape): Candidate => {
      const has = shape.frets.map((frets) => frets.reduce((set, fret) => set | (1 << (fret % period)), 0));
      return { shape, has };
    }),
  );
  const cheap = Math.min(...choice.map((shapes) => shapes[0]?.awkward ?? Infinity));
  let best: readonly Candidate[] | null = null;
  let least = Infinity;
  const choose = (from: number, chosen: readonly Candidate[], price: number): void => {
    if (price + cheap * (count - chosen.length) >= least) return;
    const last = chosen[chosen.length - 1]?.shape;
    if (chosen.length === count) {
      const whole = price + unevenness(chosen[0]!.shape.low + period - last!.low);
      if (whole >= least || !coversAll(chosen, needed)) return;
      [best, least] = [chosen, whole];
      return;
    }
    for (let low = from; low < period; low++) {
      const gap = last === undefined ? 0 : unevenness(low - last.low);
      for (const candidate of candidates[low]!)
        choose(low + 1, [...chosen, candidate], price + gap + candidate.shape.awkward);
    }
  };
  choose(0, [], 0);
  return (best as readonly Candidate[] | null)?.map(({ shape }) => shape) ?? null;
}

const coversAll = (chosen: readonly Candidate[], needed: readonly number[]): boolean =>
  needed.every((notes, string) => {
    const had = chosen.reduce((set, { has }) => set | has[string]!, 0);
    return (had & notes) === notes;
  });
