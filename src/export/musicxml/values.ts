import { PPQ } from '../../engine/index.ts';

/** How a note value is drawn. */
export interface NoteValue {
  /** As MusicXML names it. */
  readonly type: string;
  readonly dots: 0 | 1;
  /** True for one of three in the time of two. */
  readonly triplet: boolean;
  readonly length: number;
}

const PLAIN = ['whole', 'half', 'quarter', 'eighth', '16th', '32nd', '64th'] as const;

/** Every value from the longest to the shortest: plain, dotted down to the 32nd, and as a triplet. */
export const VALUES: readonly NoteValue[] = Object.freeze(
  PLAIN.flatMap((type, index): NoteValue[] => {
    const length = (4 * PPQ) / 2 ** index;
    return [
      ...(type === '64th' ? [] : [{ type, dots: 1 as const, triplet: false, length: length * 1.5 }]),
      { type, dots: 0, triplet: false, length },
      { type, dots: 0, triplet: true, length: (length * 2) / 3 },
    ];
  }).sort((a, b) => b.length - a.length),
);

/** The value that lasts exactly `length` ticks, without a triplet; null where there is none. */
export const valueOf = (length: number): NoteValue | null =>
  VALUES.find((value) => !value.triplet && value.length === length) ?? null;
