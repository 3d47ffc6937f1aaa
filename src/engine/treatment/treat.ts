import { pitchClass, resolution, type Changes } from '../harmony/index.ts';
import { randomFor } from '../units/index.ts';
import { dominantsOf, type Dominant } from './dominants.ts';
import { homeTonic } from './home.ts';
import { paint } from './paint.ts';
import type { Stroke } from './stroke.ts';
import type { PlacedTreatment, TreatmentRule, When } from './types.ts';

/** The round that is treated, and the session's seed. */
export interface TreatContext {
  /** Counted from 0. */
  readonly round: number;
  readonly seed: number;
}

/** What is laid over a chart. Of each list the later entry wins where two overlap. */
export interface TreatmentLayers {
  readonly placed: readonly PlacedTreatment[];
  readonly rules: readonly TreatmentRule[];
}

/**
 * Lays treatments over the changes as written. What the hand placed wins over the rules; of two hands,
 * and of two rules, the later one wins where they overlap. Only dominants take a colour; all else, and
 * the chart, stay as they are. A dominant at the end resolves round the loop into the first chord.
 * @param changes one whole chorus as written; rules count its bars
 * @returns `changes` itself where nothing sounds
 */
export function treat(changes: Changes, layers: TreatmentLayers, context: TreatContext): Changes {
  if (layers.placed.length === 0 && layers.rules.length === 0) return changes;
  const dominants = dominantsOf(changes);
  if (dominants.length === 0) return changes;
  const strokes = layers.rules.flatMap((rule) => ruleStrokes(changes, dominants, rule, context));
  strokes.push(...placedStrokes(changes, layers.placed, context));
  return paint(changes, dominants, strokes);
}

function placedStrokes(
  changes: Changes,
  placed: readonly PlacedTreatment[],
  context: TreatContext,
): Stroke[] {
  if (placed.length === 0) return [];
  const played = new Map<number, number[]>();
  for (const [index, { written }] of changes.bars.entries()) {
    const known = played.get(written);
    if (known) known.push(index);
    else played.set(written, [index]);
  }
  return placed.flatMap(({ id, kind, bar: written, at, length, when }) =>
    (played.get(written) ?? [])
      .filter((index) => sounds(when, context, id, index))
      .map((index): Stroke => {
        const bar = changes.bars[index]!;
        const from = bar.start - bar.skipped + at;
        const cause = `placed by hand${whenText(when)}`;
        return { from: Math.max(from, bar.start), to: from + length, kind, origin: 'hand', cause };
      }),
  );
}

function ruleStrokes(
  changes: Changes,
  dominants: readonly Dominant[],
  rule: TreatmentRule,
  context: TreatContext,
): Stroke[] {
  const home = rule.scope === 'secondary' ? homeTonic(changes) : null;
  return dominants
    .filter((dominant) => speaksOf(rule, dominant, home))
    .flatMap((dominant) => within(changes, dominant, rule.bars))
    .filter(({ from }) => sounds(rule.when, context, rule.id, from))
    .map(({ from, to, dominant }): Stroke => {
      const { extent, kind } = rule;
      return {
        from: extent.type === 'last' ? Math.max(from, to - extent.length) : from,
        to: extent.type === 'first' ? Math.min(to, from + extent.length) : to,
        kind,
        origin: 'rule',
        cause: `${causeOf(rule, dominant)}${whenText(rule.when)}`,
      };
    });
}

function speaksOf({ scope }: TreatmentRule, { chord, next }: Dominant, home: number | null): boolean {
  switch (scope) {
    case 'every-dominant':
      return true;
    case 'falling-semitone':
      return resolution(chord, next) === 'falling-semitone';
    case 'falling-fifth':
      return resolution(chord, next) === 'falling-fifth';
    case 'secondary':
      return resolution(chord, next) === 'falling-fifth' && pitchClass(next!.root) !== home;
  }
}

/** The stretches of `dominant` that lie in `bars` of the form, counted from 1; all of it for null. */
function within(changes: Changes, dominant: Dominant, bars: readonly number[] | null) {
  const { from, to } = dominant;
  if (bars === null) return [{ from: from as number, to: to as number, dominant }];
  const out: { from: number; to: number; dominant: Dominant }[] = [];
  for (const number of [...new Set(bars)].sort((a, b) => a - b)) {
    const bar = changes.bars[number - 1];
    if (!bar) continue;
    const start = Math.max(from, bar.start);
    const end = Math.min(to, bar.start + bar.length);
    if (end <= start) continue;
    const last = out.at(-1);
    if (last?.to === start) last.to = end;
    else out.push({ from: start, to: end, dominant });
  }
  return out;
}

function causeOf({ scope }: TreatmentRule, { chord, next }: Dominant): string {
  if (next === null || scope === 'every-dominant') return 'by the rule for every dominant';
  const moves = scope === 'falling-semitone' ? 'a semitone' : 'a fifth';
  const where = scope === 'secondary' ? `, away from home` : '';
  return `by rule: ${chord.text} falls ${moves} to ${next.text}${where}`;
}

/** True when something with this `when` sounds in this round, at the place `key` tells apart. */
function sounds(when: When, { round, seed }: TreatContext, id: string, key: number): boolean {
  switch (when.type) {
    case 'always':
      return true;
    case 'every':
      return when.nth >= 1 && (round + 1) % when.nth === 0;
    case 'chance':
      return randomFor(seed, 'treatment', id, round, key).chance(when.chance);
  }
}

function whenText(when: When): string {
  if (when.type === 'always') return '';
  if (when.type === 'chance') return ', by chance';
  return when.nth === 1 ? '' : when.nth === 2 ? ', every second round' : `, every ${when.nth} rounds`;
}
