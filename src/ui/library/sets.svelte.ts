import type { Kept, StoragePort } from '../ports.ts';
import type { Session } from '../session.svelte.ts';
import { sentence } from './words.ts';

/** Charts in the order of a lesson. */
export interface LessonSet {
  readonly id: string;
  readonly name: string;
  /** Ids of charts in the library; one that was removed stays in its place until the set is changed. */
  readonly charts: readonly string[];
}

/** A place in a set; there is no chart at it where the set is at its end. */
export interface Place {
  readonly set: LessonSet;
  readonly at: number;
  readonly chart: string | null;
}

/** The sets of the library. Every change can be taken back. */
export class LessonSets {
  /** Latest first. */
  all: readonly LessonSet[] = $state.raw([]);
  #kept: readonly Kept[] = [];
  readonly #session: Session;
  readonly #storage: StoragePort;

  constructor(session: Session, storage: StoragePort) {
    this.#session = session;
    this.#storage = storage;
  }

  /** The set that a chart was last opened from. */
  #begun: string | null = null;

  /** Says from which set charts are played one after the other. */
  begin(id: string): void {
    this.#begun = id;
  }

  /**
   * The place beside a chart's own in its set: the set last opened from, else the first that has the chart.
   * Null where no set has it.
   * @param exists whether a chart is still in the library; those that are not are passed over
   */
  beside(chart: string, by: -1 | 1, exists: (id: string) => boolean): Place | null {
    const sets = this.all.filter(({ charts }) => charts.includes(chart));
    const set = sets.find(({ id }) => id === this.#begun) ?? sets[0];
    if (set === undefined) return null;
    let at = set.charts.indexOf(chart) + by;
    while (at >= 0 && at < set.charts.length && !exists(set.charts[at]!)) at += by;
    return { set, at, chart: set.charts[at] ?? null };
  }

  async refresh(): Promise<void> {
    const kept = await this.#storage.sets.list();
    if (!kept.ok) return;
    this.#kept = kept.value;
    this.all = kept.value.map(setOf).toReversed();
  }

  /** @returns the new set's id; null when it could not be kept */
  async add(name: string, charts: readonly string[] = []): Promise<string | null> {
    const kept = await this.#storage.sets.add({ name, charts });
    await this.refresh();
    if (kept.ok) return kept.value.id;
    this.#session.say(sentence(kept.error));
    return null;
  }

  async rename(id: string, name: string): Promise<void> {
    await this.#change(id, { name });
  }

  /** Puts a chart at the end of a set; one that is there already stays where it is. */
  async put(id: string, chart: string): Promise<void> {
    const set = this.all.find((one) => one.id === id);
    if (set === undefined) return;
    if (!set.charts.includes(chart)) await this.#change(id, { charts: [...set.charts, chart] });
    this.#session.say(`It is in the set ${set.name}, at place ${this.#place(id, chart)}.`);
  }

  /** Takes the chart at a place out of a set; it stays in the library. */
  async take(id: string, index: number): Promise<void> {
    const before = this.#kept.find((one) => one.id === id);
    const set = this.all.find((one) => one.id === id);
    if (before === undefined || set === undefined) return;
    await this.#change(id, { charts: set.charts.filter((_, i) => i !== index) });
    this.#session.say(`Taken out of the set ${set.name}; the chart itself stays.`, {
      label: 'Take back',
      run: () => void this.#put(before),
    });
  }

  /** Moves the chart at a place one place up (-1) or down (1). */
  async move(id: string, index: number, by: -1 | 1): Promise<void> {
    const set = this.all.find((one) => one.id === id);
    const charts = set === undefined ? [] : [...set.charts];
    const [from, to] = [charts[index], charts[index + by]];
    if (from === undefined || to === undefined) return;
    charts[index] = to;
    charts[index + by] = from;
    await this.#change(id, { charts });
  }

  async remove(id: string): Promise<void> {
    const name = this.all.find((one) => one.id === id)?.name ?? '';
    const removed = await this.#storage.sets.remove(id);
    await this.refresh();
    if (!removed.ok) return this.#session.say(sentence(removed.error));
    this.#session.say(`The set ${name} is removed; its charts stay.`, {
      label: 'Take back',
      run: () => void this.#storage.sets.takeBack(id).then(() => this.refresh()),
    });
  }

  #place(id: string, chart: string): number {
    return (this.all.find((one) => one.id === id)?.charts.indexOf(chart) ?? -1) + 1;
  }

  async #change(id: string, change: Partial<LessonSet>): Promise<void> {
    const kept = this.#kept.find((one) => one.id === id);
    if (kept !== undefined) await this.#put({ ...kept, data: { ...kept.data, ...change } });
  }

  async #put(kept: Kept): Promise<void> {
    const done = await this.#storage.sets.put(kept);
    if (!done.ok) this.#session.say(sentence(done.error));
    await this.refresh();
  }
}

/** A set as it is kept; it may come from elsewhere. */
function setOf({ id, data }: Kept): LessonSet {
  const { name, charts } = data;
  return {
    id,
    name: typeof name === 'string' ? name : 'Untitled',
    charts: Array.isArray(charts) ? charts.filter((one): one is string => typeof one === 'string') : [],
  };
}
