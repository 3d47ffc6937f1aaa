import type { Weights } from './cost.ts';
import type { Lead } from './joining.ts';
import type { Layer } from './layers.ts';
import { stepsInto, type Steps } from './steps.ts';

/**
 * Exact shortest paths through layers of candidates, by dynamic programming (Viterbi).
 *
 * Some rules look back two attacks, so a state is more than a candidate: it also knows the four
 * degrees of the attack before (where the chord stayed) and whether the top voice has just stayed.
 * State of candidate `c`, previous choice `p`, top voice held `h`: `(c * width + p) * 2 + h`.
 */
interface Stage extends Steps {
  readonly layer: Layer;
  readonly size: number;
  /** How many previous choices a state tells apart: those of the chord where it stays, else one. */
  readonly width: number;
  readonly states: number;
  /** Choice of each candidate, and its top key. */
  readonly choice: Int32Array;
  readonly top: Int32Array;
  readonly choices: number;
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
  return candidatesAt(stages, trace(run.back, leastAt(run.costs.at(-1)!)));
}

/**
 * The cheapest closed path: the last attack leads into the first, memory included.
 *
 * The loop is cut at a seam, a layer that then stands at both ends. A closed path is a path from a
 * state of the seam to the same state; left free to end elsewhere it is no dearer. So any closed path
 * gives a limit; the layer becomes the seam that has the fewest states through which a free path stays
 * below it; each of those is tried. What is left out cannot be cheaper, so the result is the optimum
 * over all loops.
 */
export function closedPath(layers: readonly Layer[], weights: Weights): readonly number[] {
  const round = stagesOf(layers, weights);
  const rough = cut(round, leastAt(round.map(({ states }) => states)));
  const bounds = backward(rough.stages);
  const found = closeAt(rough, settled(rough), bounds, Infinity);
  const seam = cut(round, (rough.seam + narrowest(rough.stages, bounds, found.cost - EQUAL)) % layers.length);
  const onward = seam.seam === rough.seam ? bounds : backward(seam.stages);
  const [least] = onward;
  let best = found;
  for (const state of [...least!.keys()].sort((a, b) => least![a]! - least![b]! || a - b)) {
    const limit = best.cost - EQUAL;
    if (least![state]! >= limit) break;
    const closed = closeAt(seam, state, onward, limit);
    if (closed.cost < best.cost) best = closed;
  }
  return best.path;
}

/** Sums of the same costs in another order differ by less. */
const EQUAL = 1e-9;

/** The state in which the seam is passed by the cheapest way twice round: mostly that of the best loop. */
function settled({ stages }: Cut): number {
  const twice = [...stages, ...stages.slice(1)];
  const { costs, back } = forward(twice, new Float64Array(twice[0]!.states), null, Infinity);
  return trace(back, leastAt(costs.at(-1)!))[stages.length - 1]!;
}

/** The loop cut open: the seam's stage comes first and, once more, last. */
interface Cut {
  readonly seam: number;
  readonly stages: readonly Stage[];
}

const cut = (round: readonly Stage[], seam: number): Cut => ({
  seam,
  stages: Array.from({ length: round.length + 1 }, (_, i) => round[(seam + i) % round.length]!),
});

/** The cheapest path from a state of the seam round to itself, by layers; dearer than `limit` none is found. */
function closeAt(
  { seam, stages }: Cut,
  state: number,
  bounds: readonly Float64Array[],
  limit: number,
): { readonly cost: number; readonly path: readonly number[] } {
  const start = new Float64Array(stages[0]!.states).fill(Infinity);
  start[state] = 0;
  const run = forward(stages, start, bounds, limit);
  const cost = run.costs.at(-1)![state]!;
  if (cost === Infinity) return { cost, path: [] };
  const count = stages.length - 1;
  const path = candidatesAt(stages, trace(run.back, state));
  return { cost, path: Array.from({ length: count }, (_, i) => path[(i - seam + count) % count]!) };
}

/** The stage with the fewest states through which a free path costs less than `limit`. */
function narrowest(stages: readonly Stage[], bounds: readonly Float64Array[], limit: number): number {
  const { costs } = forward(stages, new Float64Array(stages[0]!.states), bounds, limit);
  const through = costs.slice(1).map((reached, i) => {
    const onward = bounds[i + 1]!;
    return reached.reduce((count, cost, state) => count + (cost + onward[state]! < limit ? 1 : 0), 0);
  });
  return leastAt(through) + 1;
}

/** Where the smallest of some numbers stands first. */
function leastAt(values: ArrayLike<number>): number {
  let least = 0;
  for (let i = 1; i < values.length; i++) if (values[i]! < values[least]!) least = i;
  return least;
}

function stagesOf(layers: readonly Layer[], weights: Weights): readonly Stage[] {
  return layers.map((layer, i) => {
    const before = layers[(i + layers.length - 1) % layers.length]!;
    const { list, selections, choice, top } = layer.set;
    const width = layer.stays ? selections.length : 1;
    return {
      layer,
      size: list.length,
      width,
      states: list.length * width * 2,
      choice,
      top,
      choices: selections.length,
      ...stepsInto(before, layer, weights),
      longStay: layer.weight * weights.topLongStay,
    };
  });
}

interface Run {
  /** For each stage the least cost of reaching each state. */
  readonly costs: readonly Float64Array[];
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
  const all: Float64Array[] = [start];
  for (let i = 1; i < stages.length; i++) {
    const [a, b] = [stages[i - 1]!, stages[i]!];
    const costs = all[i - 1]!;
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
    all.push(next);
  }
  return { costs: all, back };
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

/** The states along the best way to `state` of the last stage. */
function trace(back: readonly Int32Array[], state: number): readonly number[] {
  const states = new Array<number>(back.length);
  for (let i = back.length - 1; i >= 0; i--) {
    states[i] = state;
    if (i > 0) state = back[i]![state]!;
  }
  return states;
}

const candidatesAt = (stages: readonly Stage[], states: readonly number[]): readonly number[] =>
  states.map((state, i) => Math.floor(state / (stages[i]!.width * 2)));
