/** What a line costs, piece by piece. Lower is better; prices may be negative. */
export interface LinePrices {
  /** Candidate `note` at place `index`, by itself. */
  readonly own: (index: number, note: number) => number;
  /** From `before` at the place before to `note` at `index`. */
  readonly step: (index: number, before: number, note: number) => number;
  /** Three in a row, `note` at `index`. */
  readonly turn: (index: number, first: number, second: number, note: number) => number;
}

/**
 * The cheapest line through one candidate of each place, exactly: a shortest path whose nodes are pairs
 * of neighbouring notes, so that prices may speak of three notes in a row.
 * @param places the pitches to choose from at each place, none empty
 * @param from the note that sounded before the first place, or null
 * @throws RangeError when a place has no candidates
 */
export function cheapestLine(
  places: readonly (readonly number[])[],
  from: number | null,
  prices: LinePrices,
): readonly number[] {
  if (places.length === 0) return [];
  places.forEach((place, index) => {
    if (place.length === 0) throw new RangeError(`place ${index} of the line has no candidates`);
  });
  const origin = from === null ? [] : [from];
  // costs[b * now.length + c]: the cheapest way to have played now[c] after before[b].
  let before: readonly number[] = origin.length > 0 ? origin : [Number.NaN];
  let now = places[0]!;
  let costs = Float64Array.from(now, (note) => {
    return prices.own(0, note) + (from === null ? 0 : prices.step(0, from, note));
  });
  const trails: Int16Array[] = [];
  for (let index = 1; index < places.length; index++) {
    const next = places[index]!;
    const nextCosts = new Float64Array(now.length * next.length);
    const trail = new Int16Array(now.length * next.length);
    for (let n = 0; n < next.length; n++) {
      const note = next[n]!;
      const own = prices.own(index, note);
      for (let c = 0; c < now.length; c++) {
        const second = now[c]!;
        let least = Infinity;
        let best = 0;
        for (let b = 0; b < before.length; b++) {
          const first = before[b]!;
          const turn = Number.isNaN(first) ? 0 : prices.turn(index, first, second, note);
          const cost = costs[b * now.length + c]! + turn;
          if (cost < least) {
            least = cost;
            best = b;
          }
        }
        nextCosts[c * next.length + n] = least + own + prices.step(index, second, note);
        trail[c * next.length + n] = best;
      }
    }
    trails.push(trail);
    before = now;
    now = next;
    costs = nextCosts;
  }
  let least = 0;
  for (let i = 1; i < costs.length; i++) if (costs[i]! < costs[least]!) least = i;
  const line = new Array<number>(places.length);
  let [b, c] = [Math.floor(least / now.length), least % now.length];
  for (let index = places.length - 1; index >= 0; index--) {
    line[index] = places[index]![c]!;
    if (index === 0) break;
    const earlier = trails[index - 1]![b * places[index]!.length + c]!;
    [c, b] = [b, earlier];
  }
  return line;
}
