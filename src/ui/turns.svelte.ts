import { flushSync } from 'svelte';

/** How the page comes in parts, so that none holds up a press. */
export interface Coming {
  /** Resolves when the next part may come. */
  readonly pause: () => Promise<void>;
  /** Called once the page can be used. */
  readonly ready: () => void;
  /** Called once all of it is there. */
  readonly whole: () => void;
}

/** A task takes up one more part only while it is younger than this, ms: on a slow phone each part has its own. Our choice. */
const YOUNG_MS = 4;

/** The order in which the parts of a page come: those of its first view, and then the others. */
export class Turns {
  readonly #first: Turn[] = [];
  readonly #others: Turn[] = [];
  /** What has asked for a turn while another had its own, and comes right after it; null while none has. */
  #within: Turn[] | null = null;
  #over = false;

  /**
   * Asks for a turn, behind all that have one.
   * @param late true for what does not belong to the first view
   * @returns whether the turn has come; follows signals
   */
  ask(late: boolean): () => boolean {
    if (this.#over) return () => true;
    const turn = new Turn();
    (this.#within ?? (late ? this.#others : this.#first)).push(turn);
    return () => turn.has;
  }

  /** Lets all come, one after the other; those that ask later come at once. */
  async run({ pause, ready, whole }: Coming): Promise<void> {
    await this.#take(this.#first, pause);
    ready();
    await this.#take(this.#others, pause);
    this.#over = true;
    whole();
  }

  async #take(turns: Turn[], pause: () => Promise<void>) {
    while (turns.length > 0) {
      await pause();
      const begun = performance.now();
      do {
        this.#within = [];
        turns.shift()!.has = true;
        flushSync();
        turns.unshift(...this.#within);
        this.#within = null;
      } while (turns.length > 0 && performance.now() - begun < YOUNG_MS);
    }
  }
}

class Turn {
  has = $state(false);
}
