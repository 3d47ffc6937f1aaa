import type { Bpm, Midi, Mix, NoteSource, Ticks, Shelves } from '../../../src/engine/index.ts';
import { PPQ } from '../../../src/engine/index.ts';
import type { PlayerPort, PlayerState } from '../../../src/ui/ports.ts';

/**
 * A player without sound, whose music moves when it is told to, or by a clock. It keeps what it was
 * asked for.
 */
export class FakePlayer implements PlayerPort {
  source: NoteSource | null = null;
  mix: Mix | null = null;
  tone: Shelves | null = null;
  tempo: Bpm | null = null;
  /** From which tick each new source counts. */
  readonly replaced: number[] = [];
  /** Single notes asked for, each with its instrument. */
  readonly auditioned: (readonly [number, string])[] = [];
  state: PlayerState = { type: 'idle' };
  /** The tick that is heard, while the music does not run by itself. */
  at: number | null = null;

  readonly #clock: (() => number) | null;
  readonly #listeners = new Set<(state: PlayerState) => void>();
  #since = 0;

  /** @param clock seconds; null leaves `at` to whoever holds the player */
  constructor(clock: (() => number) | null = null) {
    this.#clock = clock;
  }

  start(source: NoteSource, tempo: Bpm, from: Ticks): Promise<void> {
    this.source = source;
    this.tempo = tempo;
    this.at = from;
    this.#since = this.#clock?.() ?? 0;
    this.tell({ type: 'playing' });
    return Promise.resolve();
  }

  replace(source: NoteSource, from: Ticks): void {
    this.source = source;
    this.replaced.push(from);
  }

  setTempo(tempo: Bpm): void {
    this.at = this.position();
    this.#since = this.#clock?.() ?? 0;
    this.tempo = tempo;
  }

  setMix(mix: Mix): void {
    this.mix = mix;
  }

  setTone(tone: Shelves): void {
    this.tone = tone;
  }

  audition(pitch: Midi, instrument = 'guitar'): Promise<void> {
    this.auditioned.push([pitch, instrument]);
    return Promise.resolve();
  }

  stop(): void {
    this.at = null;
    this.source = null;
    this.tell({ type: 'idle' });
  }

  position(): number | null {
    if (this.at === null || this.#clock === null) return this.at;
    return this.at + ((this.#clock() - this.#since) * (this.tempo ?? 120) * PPQ) / 60;
  }

  speed(): number {
    return this.at === null || this.#clock === null ? 0 : ((this.tempo ?? 120) * PPQ) / 60;
  }

  reach(): number | null {
    const at = this.position();
    return at === null ? null : at + PPQ * 0.1;
  }

  watch(listener: (state: PlayerState) => void): () => void {
    this.#listeners.add(listener);
    listener(this.state);
    return () => this.#listeners.delete(listener);
  }

  tell(state: PlayerState): void {
    this.state = state;
    for (const listener of this.#listeners) listener(state);
  }
}
