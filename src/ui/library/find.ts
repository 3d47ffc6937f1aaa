import type { LibraryEntry } from '../ports.ts';

export type Order = 'latest' | 'title';

/** Letters as they are compared: without accents, capitals and drawn accidentals. */
const plain = (text: string) =>
  text.replaceAll('♭', 'b').replaceAll('♯', '#').normalize('NFD').replaceAll(/\p{M}/gu, '').toLowerCase();

/** True when every word of `wanted` stands somewhere in `text`. */
export function matches(text: string, wanted: string): boolean {
  const there = plain(text);
  return plain(wanted)
    .split(/\s+/)
    .every((word) => there.includes(word));
}

/**
 * The charts that are looked for.
 * @param wanted words of the title, the tags or the chords
 * @param tags all of which a chart must have
 */
export function found(
  entries: readonly LibraryEntry[],
  wanted: string,
  tags: readonly string[],
  order: Order,
): readonly LibraryEntry[] {
  const left = entries.filter(
    (entry) =>
      tags.every((tag) => entry.tags.includes(tag)) &&
      matches(`${entry.title} ${entry.tags.join(' ')} ${entry.text}`, wanted),
  );
  return left.toSorted(order === 'latest' ? (a, b) => b.saved - a.saved : byTitle);
}

const collator = new Intl.Collator('en', { numeric: true, sensitivity: 'base' });
const byTitle = (a: LibraryEntry, b: LibraryEntry) => collator.compare(a.title, b.title);

/** More than this are no help in choosing. */
const MOST_TAGS = 12;

/** The tags of the library, those of most charts first. */
export function tagsOf(entries: readonly LibraryEntry[]): readonly string[] {
  const counts = new Map<string, number>();
  for (const tag of entries.flatMap((entry) => entry.tags)) counts.set(tag, (counts.get(tag) ?? 0) + 1);
  return [...counts.keys()]
    .toSorted((a, b) => counts.get(b)! - counts.get(a)! || collator.compare(a, b))
    .slice(0, MOST_TAGS);
}

/** What a player types for tags: separated by commas, each once. */
export const readTags = (typed: string): readonly string[] => [
  ...new Set(
    typed
      .split(',')
      .map((tag) => tag.trim())
      .filter((tag) => tag !== ''),
  ),
];

/** The first chords of a chart, on one line. */
export function taste(text: string): string {
  const line = text
    .replaceAll(/"[^"\n]*"/g, ' ')
    .replaceAll(/\|\s*\n\s*\|(?!:)/g, '| ')
    .replaceAll(/\s+/g, ' ')
    .trim();
  return line.length <= 60 ? line : `${line.slice(0, 60).replace(/\s\S*$/, '')} …`;
}
