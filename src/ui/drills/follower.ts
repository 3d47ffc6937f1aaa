import type { DrillNote } from '../../engine/index.ts';
import type { Path } from '../glide.ts';
import { indexAt } from '../ribbon/layout.ts';
import type { DrawnSystem } from '../notation/engrave.ts';

/** Where the music is on the paper. */
export interface Spot {
  /** Which line. */
  readonly row: number;
  /** The note that sounds, by its index in the drill; null while none does. */
  readonly note: number | null;
}

/** Finds the music on the paper: each note's place is reached when it sounds. */
export class Follower {
  readonly #rows: readonly { readonly start: number; readonly top: number }[];
  readonly #draw: (row: number) => DrawnSystem;
  readonly #sounds: (at: number) => number;
  readonly #paths = new Map<number, Path>();
  readonly #notes: readonly { readonly start: number; readonly end: number }[];

  /**
   * @param rows where each line begins in the drill, ticks, and where it lies, px
   * @param sounds where a tick of the drill is heard
   */
  constructor(
    rows: readonly { readonly from: number; readonly top: number }[],
    notes: readonly Pick<DrillNote, 'at' | 'length'>[],
    draw: (row: number) => DrawnSystem,
    sounds: (at: number) => number,
  ) {
    this.#rows = rows.map(({ from, top }) => ({ start: from, top }));
    this.#draw = draw;
    this.#sounds = sounds;
    this.#notes = notes.map(({ at, length }) => ({ start: sounds(at), end: sounds(at + length) }));
  }

  /** Where a tick of the round is; before its beginning at the first line. */
  at(tick: number): Spot {
    const index = indexAt(this.#notes, tick);
    const isOn = index >= 0 && tick >= 0 && tick < this.#notes[index]!.end;
    return { row: Math.max(0, indexAt(this.#rows, tick)), note: isOn ? index : null };
  }

  /** The music's way along a line. */
  path(row: number): Path {
    let path = this.#paths.get(row);
    if (path === undefined) {
      const points = this.#draw(row)
        .places.map(({ at, x }) => ({ start: this.#sounds(at), x }))
        // A bar line and the sign after it are at one tick: the sign's place is the one that is heard.
        .filter(({ start }, i, all) => all[i + 1] === undefined || start < all[i + 1]!.start);
      path = { points, y: this.#rows[row]!.top };
      this.#paths.set(row, path);
    }
    return path;
  }
}
