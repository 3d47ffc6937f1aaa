import { coverOf, numbersOf, type Found } from './covers.ts';
import { formOf, type Ground } from './lay.ts';
import type { NeckSetting, ScaleForm } from './types.ts';
import type { Shape } from './windows.ts';

/** A shape where it lies on a real neck, beginning at fret `low`. */
interface Placed {
  readonly shape: Shape;
  readonly low: number;
  readonly number: number;
  /** Where it is not the form itself but what an end of the neck leaves of it. */
  readonly end: 'open' | 'top' | null;
}

/**
 * The forms of a scale under one hand, wherever they fit between the capo and the last fret; then, for
 * notes that only forms beyond either end would have, the hand's shapes at that end.
 * @param root pitch class of the root, from which the forms are numbered
 */
export function positionForms(ground: Ground, root: number): readonly ScaleForm[] {
  const { neck } = ground;
  const found = coverOf(ground);
  const everywhere = placesOf(found, numbersOf(found, ground.open[0]!, root), neck.lastFret);
  const placed = everywhere.filter((form) => isOn(form, neck));
  const beyond = everywhere.filter((form) => !isOn(form, neck));
  const missing = allBits(ground);
  for (const form of placed) take(missing, form);
  while (missing.some((bits) => bits !== 0)) {
    const end = bestAtEnd(neck, found, missing);
    if (end === null) break;
    placed.push({ ...end, number: nearest(end, beyond) ?? nearest(end, placed)! });
    take(missing, end);
  }
  return placed
    .sort((a, b) => a.low - b.low)
    .map(({ shape, low, number, end }) => {
      const frets = shape.frets.map((own) => own.map((fret) => fret + low - shape.low));
      return formOf(ground, { number, label: `Form ${number}${end === null ? '' : `, ${end}`}` }, frets);
    });
}

/** Every place of the forms, also where they reach beyond the ends of the neck. */
function placesOf({ cover, offset }: Found, numbers: readonly number[], lastFret: number): Placed[] {
  return cover.forms.flatMap((shape, i) => {
    const places: Placed[] = [];
    const first = ((shape.low + offset) % cover.period) - cover.period;
    for (let low = first; low <= lastFret; low += cover.period)
      places.push({ shape, low, number: numbers[i]!, end: null });
    return places;
  });
}

const highOf = ({ shape, low }: Pick<Placed, 'shape' | 'low'>): number => low + shape.high - shape.low;

const isOn = (form: Placed, { capo, lastFret }: NeckSetting): boolean =>
  form.low >= capo && highOf(form) <= lastFret;

/** Where a shape lies on each string, as sets of bits: bit n is fret n. */
const bitsOf = ({ shape, low }: Pick<Placed, 'shape' | 'low'>): readonly number[] =>
  shape.bits.map((bits) => (low < 0 ? bits >> -low : bits << low));

/** Where the scale lies on each string. */
function allBits({ neck, open, tones }: Ground): number[] {
  return open.map((key) => {
    let bits = 0;
    for (let fret = neck.capo; fret <= neck.lastFret; fret++) if (tones[(key + fret) % 12]) bits |= 1 << fret;
    return bits;
  });
}

function take(missing: number[], form: Placed): void {
  for (const [string, bits] of bitsOf(form).entries()) missing[string]! &= ~bits;
}

/** How many places a shape has of those given. */
function common(form: Pick<Placed, 'shape' | 'low'>, places: readonly number[]): number {
  let count = 0;
  for (const [string, bits] of bitsOf(form).entries())
    for (let rest = bits & places[string]!; rest !== 0; rest &= rest - 1) count++;
  return count;
}

/** The shape on the neck that has the most of what is missing for the least awkwardness. */
function bestAtEnd(
  { capo, lastFret }: NeckSetting,
  { cover: { period, shapes }, offset }: Found,
  missing: readonly number[],
): Placed | null {
  let best: Pick<Placed, 'shape' | 'low'> | null = null;
  let least = Infinity;
  for (let low = capo; low <= lastFret; low++) {
    for (const shape of shapes[(((low - offset) % period) + period) % period]!) {
      const form = { shape, low };
      if (highOf(form) > lastFret) continue;
      const price = (1 + shape.awkward) / common(form, missing);
      if (price < least) [best, least] = [form, price];
    }
  }
  if (best === null) return null;
  return { ...best, number: 0, end: best.low - capo < lastFret - highOf(best) ? 'open' : 'top' };
}

/** The number of the form that has the most places in common, the first of such; null where none has any. */
function nearest(end: Placed, forms: readonly Placed[]): number | null {
  const own = bitsOf(end);
  const counts = forms.map((form) => common(form, own));
  const most = Math.max(0, ...counts);
  return most === 0 ? null : forms[counts.indexOf(most)]!.number;
}
