/** Something that can be found: by its name, and by words that stand for it. */
export interface Entry {
  readonly id: string;
  readonly name: string;
  readonly words: string;
  /** The sheet it is in, or what sort of thing it is; may be empty. */
  readonly where: string;
  /** The keys that do it. */
  readonly keys: readonly string[];
  readonly run: () => void;
}

/** How much a word is worth by where it is found. Our choice. */
const WORTH = { called: 9, nameBegins: 6, name: 4, words: 2, inside: 1 } as const;

const plain = (text: string) =>
  text.replaceAll('♭', 'b').replaceAll('♯', '#').normalize('NFD').replaceAll(/\p{M}/gu, '').toLowerCase();
const parts = (text: string) =>
  plain(text)
    .split(/[\s,:;.()–-]+/)
    .filter(Boolean);

/** How well an entry answers to one word; 0 not at all. */
function worth({ name, words, where }: Entry, word: string): number {
  const named = parts(name);
  if (named[0]?.startsWith(word)) return WORTH.nameBegins;
  if (named.some((part) => part.startsWith(word))) return WORTH.name;
  if (parts(`${words} ${where}`).some((part) => part.startsWith(word))) return WORTH.words;
  return plain(name).includes(word) ? WORTH.inside : 0;
}

/** The entries in which every word of `wanted` is found, the best first; all of them where none is wanted. */
export function search(entries: readonly Entry[], wanted: string): readonly Entry[] {
  const words = parts(wanted);
  const called = ({ name }: Entry) => (plain(name) === plain(wanted).trim() ? WORTH.called : 0);
  return entries
    .map((entry) => ({ entry, each: words.map((word) => worth(entry, word)) }))
    .filter(({ each }) => each.every((value) => value > 0))
    .map(({ entry, each }) => ({ entry, sum: each.reduce((sum, value) => sum + value, called(entry)) }))
    .toSorted((a, b) => b.sum - a.sum)
    .map(({ entry }) => entry);
}
