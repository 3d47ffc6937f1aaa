import { insertBar, removeBar, replaceSlot, splitSlot, type Chart } from '../engine/index.ts';

/** What edits in the ribbon need of the session. */
interface Edited {
  readonly text: string;
  readonly chart: Chart;
  edit(text: string, what: string): void;
}

/** Edits in the ribbon: each is an edit of the text. */
export class Editing {
  readonly #session: Edited;

  constructor(session: Edited) {
    this.#session = session;
  }

  /** What is typed in a slot of a written bar. */
  chordText(bar: number, slot: number): string {
    const place = this.#session.chart.bars[bar]?.slots[slot];
    return place === undefined ? '' : this.#session.text.slice(place.from, place.to);
  }

  /** Writes another symbol into a slot of a written bar: the same edit as in the text. */
  replaceChord(bar: number, slot: number, symbol: string): void {
    this.#session.edit(replaceSlot(this.#session.chart, bar, slot, symbol), `Chord in bar ${bar + 1}`);
  }

  /** Gives the second half of a chord to a new one, for now the same. */
  splitChord(bar: number, slot: number): void {
    this.#session.edit(splitSlot(this.#session.chart, bar, slot), `Split in bar ${bar + 1}`);
  }

  /** Puts a new bar after a written one: its repeat at first. */
  addBar(bar: number): void {
    this.#session.edit(insertBar(this.#session.chart, bar + 1), 'New bar');
  }

  removeBar(bar: number): void {
    this.#session.edit(removeBar(this.#session.chart, bar), `Removal of bar ${bar + 1}`);
  }
}
