/** Where the music slows down, on a beat line that knows nothing of it; in ticks. */
export interface Ritard {
  readonly from: number;
  readonly to: number;
}

/**
 * The tempo at the end, as a share of that before; our choice from the range of one half to two thirds.
 * The curve is that of a runner who stops: the square of the tempo falls evenly with the beats (Friberg
 * and Sundberg, Does music performance allude to locomotion?, Journal of the Acoustical Society of
 * America 105(3), 1999, their curve with q = 2; from memory).
 */
const LAST_TEMPO = 0.55;

const SLOPE = LAST_TEMPO ** 2 - 1;

/** How much longer the ritard lasts than the same beats in time. */
const STRETCH = (2 / SLOPE) * (LAST_TEMPO - 1);

/** Where the beat `at` sounds. What lies after the ritard goes on in its last tempo. */
export function slowed(at: number, { from, to }: Ritard): number {
  if (at <= from) return at;
  const length = to - from;
  if (at >= to) return Math.round(from + STRETCH * length + (at - to) / LAST_TEMPO);
  const share = (at - from) / length;
  return Math.round(from + (2 / SLOPE) * (Math.sqrt(1 + SLOPE * share) - 1) * length);
}

/** The beat that sounds at `at`, with a fraction; undoes {@link slowed} to within a tick. */
export function inTime(at: number, { from, to }: Ritard): number {
  if (at <= from) return at;
  const length = to - from;
  const end = from + STRETCH * length;
  if (at >= end) return to + (at - end) * LAST_TEMPO;
  const root = 1 + (SLOPE / 2) * ((at - from) / length);
  return from + ((root ** 2 - 1) / SLOPE) * length;
}

/** Below this tempo one bar is long enough to slow down in, quarter notes a minute. Our choice. */
const SLOW = 100;

/** How many bars the music slows down in. */
export const slowBars = (tempo: number): number => (tempo < SLOW ? 1 : 2);
