import type { DrillNote } from '../../engine/index.ts';
import { indexAt } from '../ribbon/layout.ts';
import type { DrawnSystem } from '../notation/engrave.ts';

/** Where the music is on the paper. */
export interface Spot {
  /** Which line, and how far along it, px. */
  readonly row: number;
  readonly x: number;
  /** The note that sounds, by its index in the drill; null while none does. */
  readonly note: number | null;
}

/** Finds the music on the paper: each note's place is reached when it sounds. */
export class Follower {
  readonly #rows: readonly { readonly start: number }[];
  readonly #draw: (row: number) => DrawnSystem;
  readonly #sounds: (at: number) => number;
  readonly #places = new Map<number, readonly { readonly start: number; readonly x: number }[]>();
  readonly #notes: readonly { readonly start: number; readonly end: number }[];

  /**
   * @param from where each line begins in the drill, ticks
   * @param sounds where a tick of the drill is heard
   */
  constructor(
    from: readonly number[],
    notes: readonly Pick<DrillNote, 'at' | 'length'>[],
    draw: (row: number) => DrawnSystem,
    sounds: (at: number) => number,
  ) {
    this.#rows = from.map((start) => ({ start }));
    this.#draw = draw;
    this.#sounds = sounds;
    this.#notes = notes.map(({ at, length }) => ({ start: sounds(at), end: sounds(at + length) }));
  }

  /** Where a tick of the round is; before its beginning at the first line. */
  at(tick: number): Spot {
    const row = Math.max(0, indexAt(this.#rows, tick));
    const places = this.#placesOf(row);
    const i = Math.max(0, indexAt(places, tick));
    const [here, next] = [places[i]!, places[i + 1]];
    const share = next === undefined ? 0 : (tick - here.start) / (next.start - here.start);
    const x = next === undefined ? here.x : here.x + Math.min(1, Math.max(0, share)) * (next.x - here.x);
    const index = indexAt(this.#notes, tick);
    const isOn = index >= 0 && tick >= 0 && tick < this.#notes[index]!.end;
    return { row, x, note: isOn ? index : null };
  }

  #placesOf(row: number) {
    let places = this.#places.get(row);
    if (places === undefined) {
      places = this.#draw(row)
        .places.map(({ at, x }) => ({ start: this.#sounds(at), x }))
        // A bar line and the sign after it are at one tick: the sign's place is the one that is heard.
        .filter(({ start }, i, all) => all[i + 1] === undefined || start < all[i + 1]!.start);
      this.#places.set(row, places);
    }
    return places;
  }
}
