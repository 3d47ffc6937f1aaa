import {
  beats,
  isDominant,
  type Changes,
  type TreatmentKind,
  type TreatmentLayers,
  type TreatmentRule,
} from '../../engine/index.ts';

/** The rule that switches has this name, so that it is found again. */
const ID = 'switching';

/** Ways from the familiar to the new and back. */
export const SWITCHINGS = [
  { value: 'off', text: 'As written', rule: null },
  {
    value: 'rounds',
    text: 'A round plain, a round {}',
    rule: { extent: { type: 'whole' }, when: { type: 'every', nth: 2 } },
  },
  {
    value: 'beats',
    text: 'Plain at first, the last two beats {}',
    rule: { extent: { type: 'last', length: beats(2) }, when: { type: 'always' } },
  },
  {
    value: 'fourth',
    text: '{} every fourth round',
    rule: { extent: { type: 'whole' }, when: { type: 'every', nth: 4 } },
  },
  {
    value: 'chance',
    text: '{} by chance',
    rule: { extent: { type: 'whole' }, when: { type: 'chance', chance: 0.5 } },
  },
] as const satisfies readonly {
  value: string;
  text: string;
  rule: Pick<TreatmentRule, 'extent' | 'when'> | null;
}[];
export type SwitchingName = (typeof SWITCHINGS)[number]['value'];

const without = ({ rules }: TreatmentLayers) => rules.filter(({ id }) => id !== ID);

/** Which way is set, and in which colour; `own` where its rule was changed by hand. */
export function switchingOf({ rules }: TreatmentLayers): {
  readonly name: SwitchingName | 'own';
  readonly kind: TreatmentKind | null;
} {
  const rule = rules.find(({ id }) => id === ID);
  if (rule === undefined) return { name: 'off', kind: null };
  const { extent, when, kind } = rule;
  const known = SWITCHINGS.find((way) => JSON.stringify(way.rule) === JSON.stringify({ extent, when }));
  return { name: known?.value ?? 'own', kind };
}

/** The layers with another way of switching; the other rules stay, under it. */
export function withSwitching(
  layers: TreatmentLayers,
  name: SwitchingName,
  kind: TreatmentKind,
): TreatmentLayers {
  const { rule } = SWITCHINGS.find(({ value }) => value === name)!;
  if (rule === null) return { ...layers, rules: without(layers) };
  const switching: TreatmentRule = { id: ID, kind, scope: 'every-dominant', bars: null, ...rule };
  return { ...layers, rules: [...without(layers), switching] };
}

/** The colour to switch to: that of the player's choice, or plain where every dominant is altered as written. */
export function usualKind({ spans }: Changes, chosen: TreatmentKind): TreatmentKind {
  const dominants = spans.flatMap(({ written }) =>
    written !== null && isDominant(written) ? [written] : [],
  );
  return dominants.length > 0 && dominants.every(({ altered }) => altered) ? 'plain' : chosen;
}
