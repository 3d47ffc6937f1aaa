import {
  roundPieces,
  ticks,
  touch,
  type Changes,
  type Form,
  type PlayPlan,
  type LiveTouch,
  type PlacedTreatment,
  type Stretch,
  type TreatmentKind,
  type TreatmentLayers,
  type TreatmentRule,
} from '../engine/index.ts';
import { indexAt } from './ribbon/layout.ts';

// Each function gives new layers and leaves the old ones as they are.

/** A stretch of the form and the colour it was given live. */
export interface HeardTouch extends Stretch {
  readonly kind: TreatmentKind;
}

type Place = Pick<PlacedTreatment, 'bar' | 'at' | 'length'>;

/** Where a stretch of the form lies by its written bar; null in an empty form. */
export function placeOf({ bars }: Form, { from, to }: Stretch): Place | null {
  const first = bars[indexAt(bars, from)];
  if (first === undefined) return null;
  return { bar: first.bar.index, at: ticks(from - first.start), length: ticks(to - from) };
}

/** Lays a treatment over a stretch of the form, at every pass of the written bars. */
export function withPlaced(
  layers: TreatmentLayers,
  form: Form,
  stretch: Stretch,
  kind: TreatmentKind,
): TreatmentLayers {
  const place = placeOf(form, stretch);
  if (place === null) return layers;
  const item: PlacedTreatment = { id: newId(layers, 't'), kind, ...place, when: { type: 'always' } };
  return { ...layers, placed: [...layers.placed, item] };
}

/** Places what was altered live, each place once. */
export function withHeard(
  layers: TreatmentLayers,
  form: Form,
  heard: readonly HeardTouch[],
): TreatmentLayers {
  return heard.reduce((so, touch) => {
    const place = placeOf(form, touch);
    const same = so.placed.some(
      (item) =>
        item.kind === touch.kind &&
        item.bar === place?.bar &&
        item.at === place.at &&
        item.length === place.length,
    );
    return same ? so : withPlaced(so, form, touch, touch.kind);
  }, layers);
}

export function withChanged(
  layers: TreatmentLayers,
  id: string,
  change: Partial<PlacedTreatment>,
): TreatmentLayers {
  return {
    ...layers,
    placed: layers.placed.map((item) => (item.id === id ? { ...item, ...change } : item)),
  };
}

export function withoutPlaced(layers: TreatmentLayers, id: string): TreatmentLayers {
  return { ...layers, placed: layers.placed.filter((item) => item.id !== id) };
}

/** One rule more: each dominant that falls a fifth is altered for its whole length. */
export function withRule(layers: TreatmentLayers): TreatmentLayers {
  const rule: TreatmentRule = {
    id: newId(layers, 'r'),
    kind: 'altered',
    scope: 'falling-fifth',
    extent: { type: 'whole' },
    bars: null,
    when: { type: 'always' },
  };
  return { ...layers, rules: [...layers.rules, rule] };
}

/**
 * The changes of the form with the live touches of a round laid over them.
 * @param roundStart the performance's tick at which the round begins
 */
export function withTouches(
  changes: Changes,
  plan: PlayPlan,
  roundStart: number,
  touches: readonly LiveTouch[],
): Changes {
  if (plan.stands !== undefined) return changes;
  const pieces = roundPieces(plan);
  return touches.reduce((treated, { at, length, kind }) => {
    const from = at - roundStart;
    const to = length === null ? Infinity : from + length;
    return pieces.reduce((so, piece) => {
      const shift = piece.form - piece.at;
      const start = Math.max(from, piece.at) + shift;
      const end = Math.min(to, piece.at + piece.length) + shift;
      return end > start ? touch(so, { at: ticks(start), length: ticks(end - start), kind }) : so;
    }, treated);
  }, changes);
}

function newId({ placed, rules }: TreatmentLayers, prefix: 't' | 'r'): string {
  const known = [...placed, ...rules];
  let number = known.length + 1;
  while (known.some(({ id }) => id === `${prefix}${number}`)) number++;
  return `${prefix}${number}`;
}
