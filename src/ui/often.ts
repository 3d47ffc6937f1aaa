/** Between two looks, ms: as long as a picture stands on most screens. */
const EVERY = 16;

const lookers = new Set<() => void>();
let timer: ReturnType<typeof setInterval> | undefined;

/**
 * Calls `look` as often as there may be something new to see, until the function it gives is called. A timer and
 * no frame is asked for: where nothing changes the browser then draws nothing.
 */
export function lookOften(look: () => void): () => void {
  lookers.add(look);
  timer ??= setInterval(() => lookers.forEach((each) => each()), EVERY);
  return () => {
    lookers.delete(look);
    if (lookers.size > 0) return;
    clearInterval(timer);
    timer = undefined;
  };
}
