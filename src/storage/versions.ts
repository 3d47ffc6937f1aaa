import type { Row, Rows, VersionRow } from './shelf.ts';

/**
 * Versions of a chart to go back to. What stood before a change is kept when the last version is a while
 * ago, or when the change takes most of the chart away; with age fewer are kept.
 */

const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
const DAY = 24 * HOUR;

/** Our choice: about as long as one works at one thing. */
const APART_MS = 10 * MINUTE;

/** Up to which age one version is kept out of each stretch of time. Our choice: as memory fades. */
const THINNING: readonly { readonly upTo: number; readonly oneIn: number }[] = Object.freeze([
  { upTo: HOUR, oneIn: APART_MS },
  { upTo: DAY, oneIn: HOUR },
  { upTo: 30 * DAY, oneIn: DAY },
  { upTo: Infinity, oneIn: 7 * DAY },
]);

/** A chart shorter than this is soon typed again, in characters. */
const WORTH_KEEPING = 24;

/**
 * True when what stands in the library should be kept as a version before it is saved over.
 * @param before the text of the chart that stands there
 * @param after the text that takes its place
 */
export function isDue({ versioned = 0 }: Row, before: string, after: string, now: number): boolean {
  const loses = before.length >= WORTH_KEEPING && after.length * 2 < before.length;
  return now - versioned >= APART_MS || loses;
}

/** Keeps what stands in the library as a version, and thins out older ones. */
export async function keepVersion(
  { versions }: Rows,
  row: Row,
  name: string,
  now: number,
  freshId: () => string,
): Promise<void> {
  const there = await versions.of(row.id);
  const same = there.find(({ file }) => file === row.file);
  if (same === undefined) {
    await versions.put({ id: freshId(), chart: row.id, at: row.saved, name, file: row.file });
  } else if (name !== '') {
    await versions.put({ ...same, name });
  }
  for (const { id } of superfluous(there, now)) await versions.drop(id);
}

/** The versions that go: all but the first of each stretch, as long as the stretch is at that age. */
export function superfluous(versions: readonly VersionRow[], now: number): readonly VersionRow[] {
  const taken = new Set<string>();
  return versions
    .filter(({ name }) => name === '')
    .toSorted((a, b) => a.at - b.at)
    .filter(({ at }) => {
      const { oneIn } = THINNING.find(({ upTo }) => now - at <= upTo)!;
      const stretch = `${oneIn} ${Math.floor(at / oneIn)}`;
      const isSuperfluous = taken.has(stretch);
      taken.add(stretch);
      return isSuperfluous;
    });
}
