import type { Notice } from '../engine/index.ts';

/** As many as a person will read. */
const MOST_NOTICES = 40;
const LONGEST_QUOTE = 40;

/** Collects what could not be taken as it stood. */
export class Notices {
  readonly #list: Notice[] = [];
  #more = 0;

  add(place: string, message: string): void {
    if (this.#list.length < MOST_NOTICES) this.#list.push({ place: shorten(place), message });
    else this.#more++;
  }

  /** Says that `value` is not what is `wanted` there. */
  refuse(place: string, value: unknown, wanted: string): void {
    const found = value === undefined ? 'nothing stands there' : `${quote(value)} is not`;
    this.add(place, `must be ${wanted}; ${found}, so it was left out`);
  }

  list(): readonly Notice[] {
    if (this.#more === 0) return this.#list;
    return [...this.#list, { place: 'elsewhere', message: `${this.#more} more of the kind` }];
  }
}

function quote(value: unknown): string {
  return shorten(typeof value === 'object' && value !== null ? 'a group or list' : JSON.stringify(value));
}

function shorten(text: string): string {
  return text.length <= LONGEST_QUOTE ? text : `${text.slice(0, LONGEST_QUOTE)}…`;
}
