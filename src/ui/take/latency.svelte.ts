import type { Preferences } from '../preferences.svelte.ts';
import type { OpenedMicrophone } from '../ports.ts';

/** The longest way round that can be set, milliseconds. */
export const LONGEST_LATENCY = 500;

/** How late the player is heard in a recording, for each microphone by itself. */
export class Latency {
  /** The microphone opened last; null before the first. */
  microphone: OpenedMicrophone | null = $state.raw(null);

  readonly #preferences: Preferences;

  constructor(preferences: Preferences) {
    this.#preferences = preferences;
  }

  /** Whether it was measured or set by hand. */
  get known(): boolean {
    return this.microphone !== null && this.microphone.label in this.#preferences.values.latencies;
  }

  /** Whole milliseconds; what is likely until it is known. */
  get ms(): number {
    if (this.microphone === null) return 0;
    const { label, likely } = this.microphone;
    return this.#preferences.values.latencies[label] ?? Math.round(1000 * likely);
  }

  set(ms: number): void {
    if (this.microphone === null) return;
    const within = Math.min(LONGEST_LATENCY, Math.max(0, Math.round(10 * ms) / 10));
    const latencies = { ...this.#preferences.values.latencies, [this.microphone.label]: within };
    this.#preferences.set({ latencies });
  }
}
