import type { CandidateSet } from './candidates.ts';
import { repeatCost, stepCost, type Weights } from './cost.ts';
import type { Lead } from './joining.ts';
import type { Layer } from './layers.ts';

/**
 * Exact shortest paths through layers of candidates, by dynamic programming (Viterbi).
 *
 * Some rules look back two attacks, so a state is more than a candidate: it also knows the four
 * degrees of the attack before (where the chord stayed) and whether the top voice has just stayed.
 * State of candidate `c`, previous choice `p`, top voice held `h`: `(c * width + p) * 2 + h`.
 */
interface Stage {
  readonly layer: Layer;
  readonly size: number;
  /** How many previous choices a state tells apart: those of the chord where it stays, else one. */
  readonly width: number;
  readonly states: number;
  /** Choice of each candidate, and its top key. */
  readonly choice: Int32Array;
  readonly top: Int32Array;
  readonly choices: number;
  /** Without memory: cost of the step from each candidate of the stage before into each of this one. */
  readonly into: Float64Array;
  /**
   * With memory: cost of a choice after two others, `(older * choices of the stage before + last) *
   * choices + new`, `older` as the states of the stage before tell it apart.
   */
  readonly after: Float64Array;
  /** Cost of the top voice staying when it has just stayed. */
  readonly longStay: number;
}

/**
 * The cheapest path from a first attack to the last.
 * @param lead what it costs to begin on each candidate, and the memory to begin with
 * @returns the index of the candidate at each layer
 */
export function openPath(layers: readonly Layer[], weights: Weights, lead: Lead): readonly number[] {
  const stages = stagesOf(layers, weights);
  const first = stages[0]!;
  const start = new Float64Array(first.states).fill(Infinity);
  for (let c = 0; c < first.size; c++) {
    const previous = first.width > 1 ? lead.choice : 0;
    start[(c * first.width + previous) * 2 + (lead.held[c] ? 1 : 0)] = first.layer.own[c]! + lead.cost[c]!;
  }
  const run = forward(stages, start, null, Infinity);
  let end = 0;
  for (let s = 1; s < run.last.length; s++) if (run.last[s]! < run.last[end]!) end = s;
  return trace(stages, run.back, end, stages.length - 1);
}

/**
 * The cheapest closed path: the last attack leads into the first, memory included. Each state of the
 * first layer is tried as the seam, in the order of a lower bound (the cheapest path from it that
 * need not close); the rest is left out once the bound reaches the best loop found, so that the
 * result is the optimum over all of them. The seam lies at the layer with the fewest states.
 */
export function closedPath(layers: readonly Layer[], weights: Weights): readonly number[] {
  const count = layers.length;
  const unrolled = stagesOf(layers, weights);
  const seam = unrolled.reduce((best, stage, i) => (stage.states < unrolled[best]!.states ? i : best), 0);
  // The seam stands at both ends, as the first stage and the last.
  const stages = Array.from({ length: count + 1 }, (_, i) => unrolled[(seam + i) % count]!);
  const bounds = backward(stages);
  const order = Array.from(bounds[0]!.keys()).sort((a, b) => bounds[0]![a]! - bounds[0]![b]! || a - b);
  let best = Infinity;
  let path: readonly number[] = [];
  for (const state of order) {
    if (bounds[0]![state]! >= best) break;
    const start = new Float64Array(stages[0]!.states).fill(Infinity);
    start[state] = 0;
    const run = forward(stages, start, bounds, best);
    if (run.last[state]! < best) {
      best = run.last[state]!;
      path = trace(stages, run.back, state, count);
    }
  }
  return layers.map((_, i) => path[(i - seam + count) % count]!);
}

function stagesOf(layers: readonly Layer[], weights: Weights): readonly Stage[] {
  const steps = new Map<string, Float64Array>();
  const remembered = <T extends Float64Array>(key: string, make: () => T): Float64Array => {
    const known = steps.get(key) ?? make();
    steps.set(key, known);
    return known;
  };
  return layers.map((layer, i) => {
    const before = layers[(i + layers.length - 1) % layers.length]!;
    const { key, list, selections } = layer.set;
    const { stays, answers, weight } = layer;
    const width = stays ? selections.length : 1;
    return {
      layer,
      size: list.length,
      width,
      states: list.length * width * 2,
      choice: Int32Array.from(list, ({ selection }) => selection),
      top: Int32Array.from(list, ({ voicing }) => voicing.pitches[3]!),
      choices: selections.length,
      into: remembered(`into ${before.set.key} ${key} ${stays} ${answers} ${weight}`, () =>
        stepsInto(before.set, layer, weights),
      ),
      after: remembered(`after ${before.set.key} ${before.stays} ${key} ${stays} ${weight}`, () =>
        choicesAfter(before, layer, weights),
      ),
      longStay: weight * weights.topLongStay,
    };
  });
}

function stepsInto(before: CandidateSet, layer: Layer, weights: Weights): Float64Array {
  const { set, stays, answers, weight } = layer;
  const costs = new Float64Array(before.list.length * set.list.length);
  before.list.forEach((from, a) =>
    set.list.forEach((to, b) => {
      const same = stays && from.selection === to.selection;
      const short = stays && answers && (from.heard | to.heard) !== set.toHear;
      costs[a * set.list.length + b] =
        stepCost(from.voicing, to.voicing, stays, weights) +
        weight * repeatCost(from.voicing, to.voicing, same, weights) +
        (short ? weights.unheard : 0);
    }),
  );
  return costs;
}

/** Nothing is remembered over a change of chord. */
function choicesAfter(before: Layer, { set, stays, weight }: Layer, weights: Weights): Float64Array {
  const lastCount = before.set.selections.length;
  const count = set.selections.length;
  const costs = new Float64Array((before.stays ? lastCount : 1) * lastCount * count);
  if (!before.stays || !stays) return costs;
  const heard = set.selections.map((selection) => selection.heard);
  for (let i = 0; i < costs.length; i++) {
    const [older, last, now] = [Math.floor(i / count / count), Math.floor(i / count) % count, i % count];
    const back = older === now && last !== now ? weight * weights.toAndFro : 0;
    const sounded = heard[older]! | heard[last]! | heard[now]!;
    costs[i] = back + (sounded !== set.toHear ? weights.unheard : 0);
  }
  return costs;
}

interface Run {
  /** Cost of each state of the last stage. */
  readonly last: Float64Array;
  /** For each stage the state of the one before that each state was best reached from. */
  readonly back: readonly Int32Array[];
}

function forward(
  stages: readonly Stage[],
  start: Float64Array,
  bounds: readonly Float64Array[] | null,
  limit: number,
): Run {
  const back: Int32Array[] = [new Int32Array(0)];
  let costs = start;
  for (let i = 1; i < stages.length; i++) {
    const [a, b] = [stages[i - 1]!, stages[i]!];
    const next = new Float64Array(b.states).fill(Infinity);
    const from = new Int32Array(b.states);
    const bound = bounds?.[i - 1];
    const { after, longStay } = b;
    const best = new Float64Array(b.choices * 2);
    const bestState = new Int32Array(b.choices * 2);
    for (let c = 0; c < a.size; c++) {
      const q = a.choice[c]!;
      best.fill(Infinity);
      let alive = false;
      for (let p = 0; p < a.width; p++) {
        for (let held = 0; held < 2; held++) {
          const state = (c * a.width + p) * 2 + held;
          const cost = costs[state]!;
          if (cost === Infinity || (bound !== undefined && cost + bound[state]! >= limit)) continue;
          alive = true;
          for (let r = 0; r < b.choices; r++) {
            const reached = cost + after[(p * a.choices + q) * b.choices + r]!;
            if (reached < best[r * 2]!) {
              best[r * 2] = reached;
              bestState[r * 2] = state;
            }
            if (reached + held * longStay < best[r * 2 + 1]!) {
              best[r * 2 + 1] = reached + held * longStay;
              bestState[r * 2 + 1] = state;
            }
          }
        }
      }
      if (!alive) continue;
      for (let d = 0; d < b.size; d++) {
        const stay = a.top[c] === b.top[d] ? 1 : 0;
        const slot = b.choice[d]! * 2 + stay;
        const cost = best[slot]! + b.into[c * b.size + d]! + b.layer.own[d]!;
        const state = (d * b.width + (b.layer.stays ? q : 0)) * 2 + stay;
        if (cost < next[state]!) {
          next[state] = cost;
          from[state] = bestState[slot]!;
        }
      }
    }
    back.push(from);
    costs = next;
  }
  return { last: costs, back };
}

/** For each stage the cheapest way from each state to the end of the last stage, wherever it ends. */
function backward(stages: readonly Stage[]): readonly Float64Array[] {
  const bounds: Float64Array[] = new Array<Float64Array>(stages.length);
  bounds[stages.length - 1] = new Float64Array(stages.at(-1)!.states);
  for (let i = stages.length - 2; i >= 0; i--) {
    const [a, b] = [stages[i]!, stages[i + 1]!];
    const onward = bounds[i + 1]!;
    const here = new Float64Array(a.states).fill(Infinity);
    const { after, longStay } = b;
    const best = new Float64Array(b.choices * 2);
    for (let c = 0; c < a.size; c++) {
      const q = a.choice[c]!;
      best.fill(Infinity);
      for (let d = 0; d < b.size; d++) {
        const stay = a.top[c] === b.top[d] ? 1 : 0;
        const slot = b.choice[d]! * 2 + stay;
        const state = (d * b.width + (b.layer.stays ? q : 0)) * 2 + stay;
        const cost = b.into[c * b.size + d]! + b.layer.own[d]! + onward[state]!;
        if (cost < best[slot]!) best[slot] = cost;
      }
      for (let p = 0; p < a.width; p++) {
        for (let held = 0; held < 2; held++) {
          let least = Infinity;
          for (let r = 0; r < b.choices; r++) {
            const extra = after[(p * a.choices + q) * b.choices + r]!;
            least = Math.min(least, extra + best[r * 2]!, extra + held * longStay + best[r * 2 + 1]!);
          }
          here[(c * a.width + p) * 2 + held] = least;
        }
      }
    }
    bounds[i] = here;
  }
  return bounds;
}

/** The candidates along the best way to `state` of stage `last`. */
function trace(
  stages: readonly Stage[],
  back: readonly Int32Array[],
  state: number,
  last: number,
): readonly number[] {
  const path = new Array<number>(last + 1);
  for (let i = last; i >= 0; i--) {
    path[i] = Math.floor(state / (stages[i]!.width * 2));
    if (i > 0) state = back[i]![state]!;
  }
  return path;
}
