/** One stretch of practice, as the log keeps it. */
export interface Practised {
  /** When it began, in milliseconds since 1970. */
  readonly at: number;
  /** How long it lasted, in seconds. */
  readonly seconds: number;
  /** What was practised: the title of the chart, or of the plan's step. */
  readonly what: string;
  /** The chart's id in the library; empty where it has none. */
  readonly chart: string;
  /** The slowest and the fastest tempo, quarter notes a minute. */
  readonly slowest: number;
  readonly fastest: number;
  /** The tonics of the keys it sounded in, in the order they came. */
  readonly keys: readonly string[];
}

/** Something to come back to. */
export interface Due {
  readonly what: string;
  readonly chart: string;
  /** On how many days it was practised. */
  readonly days: number;
  /** When it was last practised, in milliseconds since 1970. */
  readonly last: number;
  /** When to come back to it. */
  readonly due: number;
  readonly fastest: number;
}

const DAY = 86_400_000;

/**
 * Days to leave before coming back, after the first day of practice, the second and so on. Spaced practice
 * keeps longer than massed practice, and the best gap grows with the time one wants to remember (Cepeda
 * and others, Spacing effects in learning, Psychological Science 19(11), 2008; from memory). The numbers
 * are our choice.
 */
const GAPS = [1, 3, 7, 14, 30, 60] as const;

/**
 * What was practised, each thing once, with the day to come back to it; what is due longest comes first.
 * @param log in any order
 * @param startOfDay the beginning of the day a moment lies in, where the player lives
 */
export function dueAgain(log: readonly Practised[], startOfDay: (at: number) => number): readonly Due[] {
  const things = new Map<string, Practised[]>();
  for (const line of log) {
    const key = `${line.chart}\n${line.what}`;
    things.set(key, [...(things.get(key) ?? []), line]);
  }
  return [...things.values()]
    .map((lines): Due => {
      const days = new Set(lines.map(({ at }) => startOfDay(at)));
      const last = Math.max(...lines.map(({ at }) => at));
      const gap = GAPS[Math.min(days.size, GAPS.length) - 1]!;
      const { what, chart } = lines[0]!;
      const fastest = Math.max(...lines.map((line) => line.fastest));
      return { what, chart, days: days.size, last, due: startOfDay(last) + gap * DAY, fastest };
    })
    .sort((a, b) => a.due - b.due);
}
