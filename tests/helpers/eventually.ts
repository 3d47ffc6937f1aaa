import { vi } from 'vitest';

/** How long a slow machine may take for what a quick one does at once, milliseconds. */
const PATIENCE = 15_000;

/** Asks again and again until nothing is thrown, and gives the answer. @throws what was thrown last */
export const eventually = <T>(ask: () => T | Promise<T>): Promise<T> => vi.waitFor(ask, PATIENCE);
