import { isDominant, pitchClass, type Changes, type Chord } from '../harmony/index.ts';
import { ticks, type Ticks } from '../units/index.ts';

/** One dominant: neighbouring spans on the same root, however often its symbol is written. */
export interface Dominant {
  readonly from: Ticks;
  readonly to: Ticks;
  /** Indices into the spans, `last` included. */
  readonly first: number;
  readonly last: number;
  /** As the chart first writes it. */
  readonly chord: Chord;
  /** The chord that follows, round the loop to its start; silence in between is passed over. */
  readonly next: Chord | null;
}

/** The dominants of `changes` as the chart writes them, in order. */
export function dominantsOf(changes: Changes): Dominant[] {
  const { spans } = changes;
  const found: Dominant[] = [];
  for (let first = 0; first < spans.length; first++) {
    const chord = spans[first]!.written;
    if (chord === null || !isDominant(chord)) continue;
    const root = pitchClass(chord.root);
    let last = first;
    for (
      let after = spans[last + 1]?.written;
      after && isDominant(after) && pitchClass(after.root) === root;
    ) {
      last++;
      after = spans[last + 1]?.written;
    }
    const end = spans[last]!;
    found.push({
      from: spans[first]!.start,
      to: ticks(end.start + end.length),
      first,
      last,
      chord,
      next: chordAfter(changes, last),
    });
    first = last;
  }
  return found;
}

function chordAfter({ spans }: Changes, index: number): Chord | null {
  for (let step = 1; step < spans.length; step++) {
    const chord = spans[(index + step) % spans.length]!.written;
    if (chord !== null) return chord;
  }
  return null;
}

/** Index of the first of `dominants` that ends after tick `at`: the one sounding, or the next one. */
export function firstDominant(dominants: readonly Dominant[], at: number): number {
  let low = 0;
  let high = dominants.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (dominants[middle]!.to > at) high = middle;
    else low = middle + 1;
  }
  return low;
}
