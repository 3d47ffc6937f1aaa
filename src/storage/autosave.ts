/** How long a change waits for others before it is saved, ms: with the saving itself, under a second. */
const WAIT_MS = 400;
/** How long after a save that failed it is tried again, ms. */
const RETRY_MS = 5000;

/** Saves the latest value of each key soon after it changes, one save at a time. */
export class Autosave<T> {
  readonly #save: (key: string, value: T) => Promise<boolean>;
  readonly #done: () => void;
  readonly #waiting = new Map<string, T>();
  #timer: ReturnType<typeof setTimeout> | null = null;
  #running: Promise<void> = Promise.resolve();

  /**
   * @param save answers whether it has saved; never rejects
   * @param done is called whenever all that waited is saved
   */
  constructor(save: (key: string, value: T) => Promise<boolean>, done: () => void) {
    this.#save = save;
    this.#done = done;
  }

  keep(key: string, value: T): void {
    this.#waiting.set(key, value);
    this.#arm(WAIT_MS);
  }

  /** Forgets what waits under `key`: something newer is saved otherwise. */
  drop(key: string): void {
    this.#waiting.delete(key);
  }

  /** Saves at once what waits; true when nothing is left. */
  async settle(): Promise<boolean> {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
    this.#running = this.#running.then(() => this.#saveAll());
    await this.#running;
    return this.#waiting.size === 0;
  }

  #arm(delay: number): void {
    this.#timer ??= setTimeout(() => void this.settle(), delay);
  }

  async #saveAll(): Promise<void> {
    if (this.#waiting.size === 0) return;
    for (const [key, value] of [...this.#waiting]) {
      const saved = await this.#save(key, value);
      if (!saved) this.#arm(RETRY_MS);
      else if (this.#waiting.get(key) === value) this.#waiting.delete(key);
    }
    if (this.#waiting.size === 0) this.#done();
  }

  stop(): void {
    if (this.#timer !== null) clearTimeout(this.#timer);
    this.#timer = null;
    this.#waiting.clear();
  }
}
