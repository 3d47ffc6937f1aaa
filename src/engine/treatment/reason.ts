import type { Changes } from '../harmony/index.ts';
import { beatLength } from '../units/index.ts';
import { TREATMENTS } from './data.ts';
import { indexAt } from './slice.ts';
import type { Piece } from './stroke.ts';

/** One sentence for the player: "Altered on beats 3 and 4, placed by hand." */
export function reasonFor(changes: Changes, { from, to, stroke, resolved }: Piece): string {
  const { kind, cause } = stroke;
  const what =
    kind !== 'suspended-first'
      ? TREATMENTS[kind].label
      : resolved
        ? 'Third after the suspension'
        : 'Suspended';
  return `${what} ${whereText(changes, from, to)}, ${cause}.`;
}

/** A stretch in a player's words: "for the whole bar", "on beats 3 and 4", "from beat 3 for 4 beats". */
export function whereText(changes: Changes, from: number, to: number): string {
  const bar = changes.bars[indexAt(changes.bars, from)];
  const last = changes.bars[indexAt(changes.bars, to - 1)];
  if (!bar || !last) return 'here';
  if (from === bar.start && to === last.start + last.length) {
    const bars = indexAt(changes.bars, to - 1) - indexAt(changes.bars, from) + 1;
    return bars === 1 ? 'for the whole bar' : `for ${bars} bars`;
  }
  const beat = beatLength(bar.metre);
  const first = 1 + (from - bar.start + bar.skipped) / beat;
  const count = (to - from) / beat;
  if (bar === last && Number.isInteger(first) && Number.isInteger(count)) {
    if (count === 1) return `on beat ${first}`;
    return `on beats ${first} ${count === 2 ? 'and' : 'to'} ${first + count - 1}`;
  }
  return `from beat ${short(first)} for ${short(count)} ${count === 1 ? 'beat' : 'beats'}`;
}

const short = (value: number) => String(Math.round(value * 100) / 100);
