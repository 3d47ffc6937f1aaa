/** Calls back at a steady interval from a worker's clock; from the page's own where workers are not to be had. */
export class Ticker {
  readonly #interval: number;
  readonly #worker: Worker | null;
  #timer: ReturnType<typeof setInterval> | undefined;
  #onTick: (() => void) | null = null;

  /**
   * @param interval milliseconds
   */
  constructor(interval: number) {
    this.#interval = interval;
    this.#worker = openWorker();
    this.#worker?.addEventListener('message', () => this.#onTick?.());
  }

  start(onTick: () => void): void {
    this.#onTick = onTick;
    this.#worker?.postMessage(this.#interval);
    if (this.#worker === null) this.#timer = setInterval(onTick, this.#interval);
  }

  stop(): void {
    this.#onTick = null;
    this.#worker?.postMessage(null);
    clearInterval(this.#timer);
  }

  /** Ends the worker; the ticker cannot be used again. */
  close(): void {
    this.stop();
    this.#worker?.terminate();
  }
}

function openWorker(): Worker | null {
  try {
    return new Worker(new URL('./ticker.worker.ts', import.meta.url), { type: 'module' });
  } catch {
    return null;
  }
}
