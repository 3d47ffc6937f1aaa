import type { SheetBar } from '../../engine/index.ts';
import type { DrawnSystem, Engraving, Look } from '../notation/engrave.ts';

/** A line of music on the paper, px from its top. */
export interface Row {
  readonly top: number;
  readonly height: number;
  /** Where it begins in the drill, ticks. */
  readonly from: number;
  readonly box: HTMLElement;
  /** Null until it is drawn. */
  drawn: DrawnSystem | null;
}

/** Room between two lines, px at usual size. */
const GAP = 14;
/** A note answers to a pointer this far around it at the least, px. */
const REACH = 24;
/** How long lines that are not seen yet are drawn at a stretch, ms. Our choice: half a frame. */
const STRETCH_MS = 8;

/** How a note is named for who listens; `index` is that of the drill. */
export type NameOf = (index: number) => string;

/**
 * A sheet of music: what can be seen is drawn at once, the rest in pieces between frames, so that the page never
 * waits for it.
 */
export class Paper {
  readonly rows: readonly Row[];
  readonly height: number;
  readonly #engraving: Engraving;
  readonly #nameOf: NameOf;
  readonly #prefix: string;
  #next = 0;
  /** Brings the next task at once, where timers within timers wait. */
  readonly #tasks = new MessageChannel();

  /**
   * @param prefix of the notes' ids in the document
   * @param seen how much of it can be seen, px
   */
  constructor(
    { engraving }: { engraving: (bars: readonly SheetBar[], look: Look) => Engraving },
    bars: readonly SheetBar[],
    look: Look,
    nameOf: NameOf,
    prefix: string,
    seen: number,
  ) {
    this.#engraving = engraving(bars, look);
    this.#nameOf = nameOf;
    this.#prefix = prefix;
    let top = 0;
    this.rows = this.#engraving.systems.map(({ height, from }): Row => {
      const box = document.createElement('div');
      box.className = 'system';
      box.style.cssText = `top:${top}px;height:${height}px`;
      const row = { top, height, from, box, drawn: null };
      top += height + GAP * look.scale;
      return row;
    });
    this.height = Math.max(0, top - GAP * look.scale);
    while (this.#next < this.rows.length && this.rows[this.#next]!.top < seen) this.draw(this.#next++);
    this.#tasks.port1.onmessage = () => this.#drawOn();
    this.#later();
  }

  /** Calls off what is not drawn yet. */
  drop(): void {
    this.#tasks.port1.close();
  }

  /** Draws a line where that has not been done. */
  draw(index: number): DrawnSystem {
    const row = this.rows[index]!;
    if (row.drawn !== null) return row.drawn;
    const drawn = this.#engraving.draw(index);
    drawn.svg.setAttribute('aria-hidden', 'true');
    const xs = drawn.notes.map(({ x }) => x);
    const notes = drawn.notes.map((note, i) => {
      const before = i === 0 ? REACH : (note.x - xs[i - 1]!) / 2;
      const after = i === xs.length - 1 ? REACH : (xs[i + 1]! - note.x) / 2;
      const element = document.createElement('div');
      element.className = 'note';
      element.setAttribute('role', 'option');
      element.setAttribute('aria-selected', 'false');
      element.setAttribute('aria-label', this.#nameOf(note.index));
      element.id = `${this.#prefix}${note.index}`;
      element.dataset['note'] = String(note.index);
      const left = Math.max(0, note.x - Math.min(REACH, before));
      const right = Math.min(drawn.width, note.x + Math.min(REACH, after));
      element.style.cssText = `left:${left.toFixed(1)}px;width:${(right - left).toFixed(1)}px`;
      return element;
    });
    row.box.replaceChildren(drawn.svg, ...notes);
    row.drawn = drawn;
    return drawn;
  }

  /** The line a note is in, or -1; draws none. */
  rowOf(index: number): number {
    return this.rows.findIndex(({ drawn }) => drawn?.notes.some((note) => note.index === index) ?? false);
  }

  #later(): void {
    if (this.#next < this.rows.length) this.#tasks.port2.postMessage(null);
    else this.drop();
  }

  #drawOn(): void {
    const until = performance.now() + STRETCH_MS;
    do this.draw(this.#next++);
    while (this.#next < this.rows.length && performance.now() < until);
    this.#later();
  }
}
