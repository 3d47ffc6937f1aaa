import { dueAgain, roundTempo, type Due, type Practised } from '../../engine/index.ts';
import type { Kept, Log } from '../ports.ts';
import type { Session } from '../session.svelte.ts';
import { startOfDay } from './words.ts';
import { sentence } from '../library/words.ts';

/** Shorter stretches are not worth writing down, seconds. Our choice. */
const SHORTEST = 20;

/** A stretch that goes on. */
interface Going {
  /** What is practised, and the id of its chart. */
  readonly what: string;
  readonly chart: string;
  readonly at: number;
  readonly began: number;
  slowest: number;
  fastest: number;
  readonly keys: string[];
}

/** Writes down what was practised, when, how long, at which tempi and in which keys; nothing is counted up or marked. */
export class Diary {
  /** Latest first. */
  lines: readonly Practised[] = $state.raw([]);
  /** What to come back to, due longest first. */
  readonly due: readonly Due[] = $derived(dueAgain(this.lines, startOfDay));
  readonly #session: Session;
  readonly #log: Log;
  readonly #step: () => string | null;
  #going: Going | null = null;

  /** @param step the title of the plan's step that runs; null while none does */
  constructor(session: Session, log: Log, step: () => string | null) {
    this.#session = session;
    this.#log = log;
    this.#step = step;
  }

  async refresh(): Promise<void> {
    const kept = await this.#log.list();
    if (kept.ok) this.lines = kept.value.flatMap(lineOf).toReversed();
  }

  /** To be called at each beat, and when the band stops. */
  look(): void {
    const { playing, plan, round, key } = this.#session;
    const { now, on } = playing;
    if (!on) {
      this.#close();
      return;
    }
    if (now === null || now.countIn > 0 || now.rests) return;
    const tempo = roundTempo(plan, round);
    this.#going ??= this.#begin(tempo);
    this.#going.slowest = Math.min(this.#going.slowest, tempo);
    this.#going.fastest = Math.max(this.#going.fastest, tempo);
    if (!this.#going.keys.includes(key.tonic)) this.#going.keys.push(key.tonic);
  }

  /** Said at the beginning: when the band stops, another chart may be open. */
  #begin(tempo: number): Going {
    const { id, title } = this.#session.project;
    const what = this.#step() ?? (title || 'Untitled');
    const began = performance.now();
    return { what, chart: id, at: Date.now(), began, slowest: tempo, fastest: tempo, keys: [] };
  }

  #close() {
    const going = this.#going;
    this.#going = null;
    if (going === null) return;
    const seconds = Math.round((performance.now() - going.began) / 1000);
    if (seconds < SHORTEST) return;
    const { what, chart, at, slowest, fastest, keys } = going;
    const line: Practised = { at, seconds, what, chart, slowest, fastest, keys };
    this.lines = [line, ...this.lines];
    void this.#log.add({ ...line }, chart).then((kept) => {
      if (!kept.ok) this.#session.say(sentence(kept.error));
    });
  }
}

/** A line as it is kept; it may come from elsewhere. */
function lineOf({ data }: Kept): readonly Practised[] {
  const { at, seconds, what, chart, slowest, fastest, keys } = data;
  if (
    typeof at !== 'number' ||
    typeof seconds !== 'number' ||
    typeof what !== 'string' ||
    typeof slowest !== 'number' ||
    typeof fastest !== 'number'
  )
    return [];
  const names = Array.isArray(keys) ? keys.filter((key): key is string => typeof key === 'string') : [];
  return [
    { at, seconds, what, chart: typeof chart === 'string' ? chart : '', slowest, fastest, keys: names },
  ];
}
