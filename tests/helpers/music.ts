import {
  beats,
  midi,
  ticks,
  velocity,
  type NoteEvent,
  type NoteSource,
  type Part,
} from '../../src/engine/index.ts';

/** One note; `at` and `length` in quarter notes. */
export const note = (part: Part, key: number, force: number, at: number, length: number): NoteEvent => ({
  at: beats(at),
  length: beats(length),
  pitch: midi(key),
  name: null,
  degree: null,
  velocity: velocity(force),
  part,
  why: '',
});

/** A source that holds a list of notes. */
export function sourceOf(list: readonly NoteEvent[]): NoteSource {
  const sorted = list.toSorted((a, b) => a.at - b.at);
  return { notes: (from, to) => sorted.filter(({ at }) => at >= from && at < to) };
}

/** A source that plays a list of notes round and round, `length` quarter notes long. */
export function loopOf(list: readonly NoteEvent[], length: number): NoteSource {
  const round = beats(length);
  const sorted = list.toSorted((a, b) => a.at - b.at);
  return {
    notes(from, to) {
      const found: NoteEvent[] = [];
      for (let start = Math.floor(from / round) * round; start < to; start += round) {
        for (const one of sorted) {
          const at = ticks(one.at + start);
          if (at >= from && at < to) found.push({ ...one, at });
        }
      }
      return found;
    },
  };
}

/** Two bars of a trio: four-note chords on the charleston, a walking bass, ride, hi-hat and kick. */
export const TRIO: readonly NoteEvent[] = [0, 4].flatMap((bar) => [
  ...[0, 2.667].flatMap((at) => [52, 58, 62, 65].map((key) => note('comp', key, 72, bar + at, 0.9))),
  ...[36, 40, 43, 45].map((key, i) => note('bass', key + bar / 2, 85, bar + i, 1)),
  ...[0, 1, 1.667, 2, 3, 3.667].map((at) => note('drums', 51, at % 1 ? 60 : 80, bar + at, 0.5)),
  ...[1, 3].map((at) => note('drums', 44, 70, bar + at, 0.25)),
  ...[0, 1, 2, 3].map((at) => note('drums', 36, 34, bar + at, 0.25)),
]);
