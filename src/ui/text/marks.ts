import type { Problem } from '../../engine/index.ts';

/** A stretch of the text and how it is marked. */
export interface Mark {
  readonly from: number;
  readonly text: string;
  readonly look: 'error' | 'warning' | 'sounding' | '';
}

interface Range {
  readonly from: number;
  readonly to: number;
}

/** The text cut into stretches that are marked alike: what is wrong, and what sounds now. */
export function marks(text: string, problems: readonly Problem[], sounding: Range | null): readonly Mark[] {
  const ranges: (Range & { look: Mark['look'] })[] = problems.map(({ from, to, severity }) => ({
    from,
    to: Math.max(to, from + 1),
    look: severity,
  }));
  if (sounding !== null) ranges.push({ ...sounding, look: 'sounding' });
  ranges.sort((a, b) => a.from - b.from);
  const cut: Mark[] = [];
  let at = 0;
  const take = (to: number, look: Mark['look']) => {
    if (to > at) cut.push({ from: at, text: text.slice(at, to), look });
    at = Math.max(at, to);
  };
  for (const { from, to, look } of ranges) {
    take(Math.min(from, text.length), '');
    take(Math.min(to, text.length), look);
  }
  take(text.length, '');
  return cut;
}
