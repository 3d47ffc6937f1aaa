/** The note a key goes to: the next one or the one before, the first of the next bar, or the ends; null for other keys. */
export function step(
  key: string,
  from: number | null,
  notes: readonly { readonly bar: number }[],
): number | null {
  const last = notes.length - 1;
  if (last < 0) return null;
  const bar = from === null ? 0 : (notes[from]?.bar ?? 0);
  const firstOf = (wanted: number | undefined) => notes.findIndex((note) => note.bar === wanted);
  switch (key) {
    case 'ArrowRight':
      return from === null ? 0 : Math.min(last, from + 1);
    case 'ArrowLeft':
      return from === null ? 0 : Math.max(0, from - 1);
    case 'ArrowDown': {
      const next = notes.find((note) => note.bar > bar);
      return next === undefined ? last : firstOf(next.bar);
    }
    case 'ArrowUp':
      return Math.max(0, firstOf(notes.findLast((note) => note.bar < bar)?.bar));
    case 'Home':
      return 0;
    case 'End':
      return last;
    default:
      return null;
  }
}
