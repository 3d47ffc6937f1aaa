import { PPQ, ticks, type NoteEvent, type NoteSource, type Ticks } from '../../engine/index.ts';
import type { Sink } from './alongside.ts';
import type { Timeline } from './timeline.ts';

/** Tempi are asked for so many ticks further than notes, so that a note that rings across one ends in time. */
const RINGING = 16 * PPQ;

/** From `from` on, the notes come from `source`. */
interface Stretch {
  readonly from: number;
  readonly source: NoteSource;
}

/**
 * Hands notes to the ensemble, window by window, each exactly once. It knows nothing of clocks that
 * tick: a live player and an offline render call the same {@link Sequencer.fill}.
 */
export class Sequencer {
  readonly #ensemble: Sink;
  readonly #line: Timeline;
  /** In order of `from`; the last one has no end. */
  #stretches: readonly Stretch[];
  #filled: number;

  /**
   * @param from the tick at which the music begins
   */
  constructor(ensemble: Sink, line: Timeline, source: NoteSource, from: number) {
    this.#ensemble = ensemble;
    this.#line = line;
    this.#stretches = [{ from: -Infinity, source }];
    this.#filled = Math.ceil(from);
  }

  /** Plays every note before tick `to` that has not been handed on yet; those due before `earliest` are left out. */
  fill(to: number, earliest: number): void {
    const end = Math.ceil(to);
    const first = Math.max(this.#filled, Math.ceil(this.#line.tickAt(earliest)));
    for (const { at, tempo } of this.#asked(first, end + RINGING, (source) => source.tempi?.bind(source))) {
      this.#line.anchor(at, tempo);
    }
    for (const note of this.#asked(first, end, (source) => source.notes.bind(source))) this.#play(note);
    this.#filled = Math.max(this.#filled, end);
    this.#forget(this.#line.tickAt(earliest));
  }

  /**
   * Takes back what begins at tick `from` or later, asks `source` for it instead, and lets what rings
   * across `from` end as `source` has it: a note it still holds at its new end, any other at `from`.
   */
  replace(source: NoteSource, from: number): void {
    const kept = this.#stretches.filter((stretch) => stretch.from < from);
    this.#refill([...kept, { from, source }], from);
  }

  /** Plays what begins at tick `from` or later anew, after the timeline or the line-up has changed. */
  again(from: number): void {
    this.#refill(this.#stretches, from);
  }

  #refill(stretches: readonly Stretch[], from: number): void {
    this.#line.forget(from);
    this.#ensemble.takeBack(from, this.#line.timeOf(from));
    this.#stretches = stretches;
    this.#ensemble.retime(from, this.#endings(from));
    const to = this.#filled;
    this.#filled = Math.min(to, Math.ceil(from));
    this.fill(to, -Infinity);
  }

  /** When a note that began before `from` is to be let go, by the source that now holds `from`. */
  #endings(from: number): (note: NoteEvent) => number | null {
    const source = this.#stretches.findLast((stretch) => stretch.from <= from)!.source;
    return (note) => {
      if (note.at + note.length <= from) return this.#line.timeOf(note.at + note.length);
      const same = source
        .notes(note.at, ticks(note.at + 1))
        .find((other) => other.part === note.part && other.pitch === note.pitch);
      const end = same === undefined ? from : Math.max(from, same.at + same.length);
      return this.#line.timeOf(end);
    };
  }

  /** What `question` gives for the ticks from `from` to `to`, asked of each source for its own stretch. */
  #asked<T>(
    from: number,
    to: number,
    question: (source: NoteSource) => ((from: Ticks, to: Ticks) => readonly T[]) | undefined,
  ): T[] {
    return this.#stretches.flatMap((stretch, i) => {
      const first = Math.max(from, Math.ceil(stretch.from));
      const last = Math.min(to, Math.ceil(this.#stretches[i + 1]?.from ?? Infinity));
      return first < last ? [...(question(stretch.source)?.(ticks(first), ticks(last)) ?? [])] : [];
    });
  }

  #play(note: NoteEvent): void {
    this.#ensemble.play(note, this.#line.timeOf(note.at), this.#line.timeOf(note.at + note.length));
  }

  /** Drops the stretches that end before `tick`: nothing is asked of them again. */
  #forget(tick: number): void {
    const current = this.#stretches.findLastIndex((stretch) => stretch.from <= tick);
    if (current > 0) this.#stretches = this.#stretches.slice(current);
  }
}
