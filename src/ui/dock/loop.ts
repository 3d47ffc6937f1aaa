import { beatLength, type Form, type FormBar, type Stretch } from '../../engine/index.ts';
import { indexAt } from '../ribbon/layout.ts';

/** Where a loop lies, counted from 1: "bars 3 to 4", "bar 3, beats 3 to 4", "bar 3, beat 3 to bar 4". */
export function loopWords({ bars }: Form, { from, to }: Stretch): string {
  const [first, last] = [indexAt(bars, from), indexAt(bars, to - 1)];
  const [begin, end] = [bars[first]!, bars[last]!];
  const [beat, lastBeat] = [beatOf(begin, from), beatOf(end, to - 1)];
  const startsBar = from === begin.start;
  const endsBar = to === end.start + end.bar.length;
  if (startsBar && endsBar) return first === last ? `bar ${first + 1}` : `bars ${first + 1} to ${last + 1}`;
  if (first === last) {
    return `bar ${first + 1}, ${beat === lastBeat ? `beat ${beat}` : `beats ${beat} to ${lastBeat}`}`;
  }
  const opening = startsBar ? '' : `, beat ${beat}`;
  const closing = endsBar ? '' : `, beat ${lastBeat}`;
  return `bar ${first + 1}${opening} to bar ${last + 1}${closing}`;
}

const beatOf = ({ bar, start }: FormBar, at: number): number =>
  Math.floor((at - start) / beatLength(bar.metre)) + 1;
