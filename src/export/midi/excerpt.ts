import {
  PARTS,
  roundLength,
  roundTempo,
  startPerformance,
  ticks,
  type Bpm,
  type Changes,
  type NoteEvent,
  type Part,
  type Performance,
  type PlayPlan,
  type TempoChange,
  type Ticks,
} from '../../engine/index.ts';
import type { MidiChoices } from '../../ui/ports.ts';

/** A round within an excerpt. */
export interface Round {
  readonly changes: Changes;
  /** The file's tick at which a tick of the round sounds. */
  readonly sounds: (at: Ticks) => Ticks;
}

/** What goes into a file: the band's notes from a count-in to the last round, counted from the file's first tick. */
export interface Excerpt {
  readonly notes: Readonly<Record<Part, readonly NoteEvent[]>>;
  /** The tick at which the music begins, after the count-in. */
  readonly begins: Ticks;
  readonly rounds: readonly Round[];
  /** The tempi that follow the one it begins in, e.g. the rungs of a ladder. */
  readonly tempi: readonly TempoChange[];
  /** Quarter notes a minute at its first tick. */
  readonly tempo: Bpm;
  readonly length: Ticks;
}

/**
 * Plays the rounds asked for. What rings into the first of them is struck on its first beat, so that no
 * chord is missing; what rings past the last keeps its length.
 * @throws RangeError when the plan has no music in it, or no round is asked for
 */
export function excerptOf(plan: PlayPlan, choices: MidiChoices): Excerpt {
  const { first, rounds, countIn, parts, ending } = choices;
  if (!(Number.isInteger(first) && first >= 0 && Number.isInteger(rounds) && rounds >= 1)) {
    throw new RangeError(`no rounds to write: ${rounds} from ${first}`);
  }
  const settings =
    choices.timing === 'straight'
      ? { ...plan.settings, swingRatio: 1, onGrid: true as const }
      : plan.settings;
  const length = roundLength(plan);
  const from = ticks(first * length);
  const inTime = startPerformance({ ...plan, settings }, { countIn, from: ticks(0) });
  const performance = ending ? inTime.finish(ticks((first + rounds - 1) * length)) : inTime;
  const to = performance.end ?? ticks((first + rounds) * length);
  const begins = ticks(-performance.begin);
  const move = (note: NoteEvent): NoteEvent => ({ ...note, at: ticks(note.at - from + begins) });

  const music = [
    ...ringing(performance, from, first === 0 ? 0 : length),
    ...performance.notes(from, ending ? ticks(to + 1) : to),
  ]
    .filter(({ part }) => parts.includes(part))
    .map(move);
  const counted = performance
    .notes(performance.begin, ticks(0))
    .map((note) => ({ ...note, at: ticks(note.at + begins) }));
  const all = [...counted, ...music];
  const notes = Object.fromEntries(
    PARTS.map((part) => [part, struckOnce(all.filter((note) => note.part === part))]),
  ) as Record<Part, readonly NoteEvent[]>;
  const last = Math.max(to - from + begins, ...PARTS.map((part) => endOf(notes[part])));
  const tempi = performance
    .tempi(ticks(from + 1), to)
    .map(({ at, tempo }) => ({ at: ticks(at - from + begins), tempo }));
  const tempo = roundTempo(plan, first);
  return {
    notes,
    begins,
    tempi,
    tempo,
    rounds: roundsOf(performance, length, from, to, begins),
    length: ticks(last),
  };
}

/** The chord and bass notes that sound across `from`, from there on. */
function ringing(performance: Performance, from: Ticks, back: number): NoteEvent[] {
  return performance
    .notes(ticks(from - back), from)
    .filter(({ part, at, length }) => (part === 'comp' || part === 'bass') && at + length > from)
    .map((note) => ({ ...note, at: from, length: ticks(note.at + note.length - from) }));
}

/**
 * Notes of one part in which no key is struck while it still sounds: it is let go as it is struck anew,
 * and of two strokes at once the harder one stays.
 */
function struckOnce(notes: readonly NoteEvent[]): readonly NoteEvent[] {
  const sounding = new Map<number, number>();
  const out: NoteEvent[] = [];
  for (const note of notes.toSorted((a, b) => a.at - b.at)) {
    const index = sounding.get(note.pitch);
    const before = index === undefined ? undefined : out[index]!;
    if (index !== undefined && before !== undefined && before.at === note.at) {
      if (note.velocity > before.velocity) out[index] = note;
      continue;
    }
    if (index !== undefined && before !== undefined && before.at + before.length > note.at) {
      out[index] = { ...before, length: ticks(note.at - before.at) };
    }
    sounding.set(note.pitch, out.length);
    out.push(note);
  }
  return out;
}

/** When the last note has ended. */
const endOf = (notes: readonly NoteEvent[]): number =>
  notes.reduce((end, { at, length }) => Math.max(end, at + length), 0);

/** Every round from the one at `from` to the last, each where it sounds. */
function roundsOf(performance: Performance, length: Ticks, from: Ticks, to: Ticks, begins: Ticks): Round[] {
  const rounds: Round[] = [];
  const last = performance.locate(to - 1).round;
  for (let round = Math.floor(from / length); round <= last; round++) {
    const sounds = (at: Ticks) => ticks(sounded(performance, length, round * length + at) - from + begins);
    const { changes } = performance.locate(sounded(performance, length, round * length));
    rounds.push({ changes, sounds });
  }
  return rounds;
}

/** The tick at which a beat sounds, counted without any slowing down: the first that lies there or beyond. */
function sounded(performance: Performance, length: Ticks, beat: number): number {
  if (performance.end === null) return beat;
  const beatAt = (at: number) => {
    const place = performance.locate(at);
    return place.round * length + place.at;
  };
  let low = beat;
  let high = Math.max(beat, performance.end);
  while (low < high) {
    const middle = Math.floor((low + high) / 2);
    if (beatAt(middle) < beat) low = middle + 1;
    else high = middle;
  }
  return low;
}
