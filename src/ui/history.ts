/** A value that can be taken back, and what was done to it. */
interface Step<T> {
  readonly value: T;
  /** What was done to come from this value to the next, e.g. "Type". */
  readonly what: string;
}

/** A value with its past and its undone future. */
export interface History<T> {
  readonly past: readonly Step<T>[];
  readonly present: T;
  readonly future: readonly Step<T>[];
  /** Changes with the same word in a row are one step; null when the next change begins a new one. */
  readonly open: string | null;
}

/** More steps than this are forgotten, oldest first. */
const LONGEST = 500;

export function begin<T>(present: T): History<T> {
  return { past: [], present, future: [], open: null };
}

/**
 * Goes on to `value`.
 * @param what what was done, in words for the undo button
 * @param run changes of one run (typing, a slider) are undone together; null stands alone
 */
export function go<T>(history: History<T>, value: T, what: string, run: string | null = null): History<T> {
  if (run !== null && run === history.open) return { ...history, present: value, future: [] };
  const past = [...history.past, { value: history.present, what }].slice(-LONGEST);
  return { past, present: value, future: [], open: run };
}

/** Ends a run: the next change is a step of its own. */
export function settle<T>(history: History<T>): History<T> {
  return history.open === null ? history : { ...history, open: null };
}

/** One step back; the same history where there is none. */
export function undo<T>(history: History<T>): History<T> {
  const step = history.past.at(-1);
  if (step === undefined) return history;
  return {
    past: history.past.slice(0, -1),
    present: step.value,
    future: [{ value: history.present, what: step.what }, ...history.future],
    open: null,
  };
}

/** One step forward again; the same history where there is none. */
export function redo<T>(history: History<T>): History<T> {
  const [step, ...future] = history.future;
  if (step === undefined) return history;
  return {
    past: [...history.past, { value: history.present, what: step.what }],
    present: step.value,
    future,
    open: null,
  };
}
