import { fail, ok, type LayDrill, type Result, type Trouble } from '../../engine/index.ts';
import { fetchBand } from '../band.ts';
import type { Exchange, Kept, Takes } from '../ports.ts';
import { hasDrill, readTake, writeTake, type Take } from './take.ts';

/** A take that was only recorded: it has no id yet. */
export type FreshTake = Parameters<typeof writeTake>[0];

interface Loose {
  readonly kept: Kept;
  readonly sound: Blob;
}

const UNREAD: Trouble = {
  message: 'The takes could not be read.',
  remedy: 'Look to the connection and open them again.',
};
const GONE: Trouble = { message: 'The sound of this take is gone.', remedy: 'Delete the take.' };

/** The takes on this device, and those it had no room for, which last until the page is closed. */
export class Shelf {
  readonly #takes: Takes;
  readonly #exchange: Exchange;
  readonly #drills: () => Promise<LayDrill | null>;
  #loose: readonly Loose[] = [];
  /** Loose ones that were removed and may be taken back. */
  #set: readonly Loose[] = [];

  constructor(takes: Takes, exchange: Exchange, drills: () => Promise<LayDrill | null>) {
    this.#drills = drills;
    this.#takes = takes;
    this.#exchange = exchange;
  }

  /** True for a take that lasts only until the page is closed. */
  isLoose(id: string): boolean {
    return this.#loose.some(({ kept }) => kept.id === id);
  }

  /** The takes of a chart, latest first, and why there may be more that cannot be read. */
  async of(chart: string): Promise<{ takes: readonly Take[]; trouble: Trouble | null }> {
    const kept = await this.#takes.list();
    const all = [...(kept.ok ? kept.value : []), ...this.#loose.map((one) => one.kept)];
    const own = all.filter((one) => one.chart === chart);
    const lay = own.some(hasDrill) ? await this.#drills() : null;
    if (own.length === 0) return { takes: [], trouble: kept.ok ? null : kept.error };
    const band = await fetchBand().catch(() => null);
    if (band === null) return { takes: [], trouble: UNREAD };
    const takes = own.flatMap((one) => {
      const take = readTake(one, this.#exchange, band, lay);
      return take.ok ? [take.value] : [];
    });
    return { takes: takes.sort((a, b) => b.at - a.at), trouble: kept.ok ? null : kept.error };
  }

  /** Keeps a take; where the device has no room it is kept until the page is closed, and the trouble is given. */
  async add(take: FreshTake, chart: string, sound: Blob): Promise<Trouble | null> {
    const data = writeTake(take, this.#exchange);
    const kept = await this.#takes.add(data, chart, sound);
    if (kept.ok) return null;
    const loose = { id: `loose ${crypto.randomUUID()}`, chart, at: Date.now(), data };
    this.#loose = [...this.#loose, { kept: loose, sound }];
    return kept.error;
  }

  async put(take: Take): Promise<Trouble | null> {
    const { id, chart, at } = take;
    const kept = { id, chart, at, data: writeTake(take, this.#exchange) };
    if (this.isLoose(id)) {
      this.#loose = this.#loose.map((one) => (one.kept.id === id ? { ...one, kept } : one));
      return null;
    }
    const put = await this.#takes.put(kept);
    return put.ok ? null : put.error;
  }

  async sound(id: string): Promise<Result<Blob, Trouble>> {
    const loose = this.#loose.find(({ kept }) => kept.id === id);
    if (loose !== undefined) return ok(loose.sound);
    const kept = await this.#takes.sound(id);
    if (!kept.ok) return kept;
    return kept.value === null ? fail(GONE) : ok(kept.value);
  }

  async remove(id: string): Promise<Trouble | null> {
    if (this.isLoose(id)) {
      this.#set = [...this.#set, ...this.#loose.filter(({ kept }) => kept.id === id)];
      this.#loose = this.#loose.filter(({ kept }) => kept.id !== id);
      return null;
    }
    const removed = await this.#takes.remove(id);
    return removed.ok ? null : removed.error;
  }

  async takeBack(id: string): Promise<Trouble | null> {
    const loose = this.#set.find(({ kept }) => kept.id === id);
    if (loose !== undefined) {
      this.#set = this.#set.filter((one) => one !== loose);
      this.#loose = [...this.#loose, loose];
      return null;
    }
    const back = await this.#takes.takeBack(id);
    return back.ok ? null : back.error;
  }
}
