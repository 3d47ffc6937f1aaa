/** A pause longer than this begins a new count, ms. */
const LONGEST = 2000;
/** As many taps are averaged. */
const MOST = 6;

/** A tempo from taps. */
export class TapTempo {
  #taps: number[] = [];

  /**
   * @param at the moment of the tap, ms on any steady clock
   * @returns beats a minute, from the second tap on
   */
  tap(at: number): number | null {
    const last = this.#taps.at(-1);
    if (last !== undefined && at - last > LONGEST) this.#taps = [];
    this.#taps = [...this.#taps, at].slice(-MOST);
    const first = this.#taps[0]!;
    return this.#taps.length < 2 || at === first ? null : (60_000 * (this.#taps.length - 1)) / (at - first);
  }
}
