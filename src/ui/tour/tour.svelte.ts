import type { Preferences } from '../preferences.svelte.ts';

/** A tour by doing. It is offered until it is answered; what its steps are comes when it begins. */
export class Tour {
  /** How often it has begun; null while there is none. */
  begun: number | null = $state(null);
  readonly #preferences: Preferences;
  #times = 0;

  constructor(preferences: Preferences) {
    this.#preferences = preferences;
  }

  get offered(): boolean {
    return this.begun === null && this.#preferences.values.tour === 'offered';
  }

  /** Begins at the first step, also where a tour is on its way. */
  start(): void {
    this.begun = ++this.#times;
    this.#answer();
  }

  /** Ends the tour, or turns it down. */
  end(): void {
    this.begun = null;
    this.#answer();
  }

  /** It is not offered again. */
  #answer() {
    if (this.#preferences.values.tour !== 'answered') this.#preferences.set({ tour: 'answered' });
  }
}
