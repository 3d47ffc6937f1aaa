import { plainestInterval, type Form } from '../chart/index.ts';
import { transposeChord, type Changes, type Chord, type Interval } from '../harmony/index.ts';
import { randomFor } from '../units/index.ts';
import { KEY_STEPS } from './data.ts';
import type { KeyRound, Standing } from './types.ts';

/** How many keys there are to go through. */
const KEYS = 12;

/**
 * By how many semitones a round lies above the home key, 0 to 11.
 * @param seed shuffles the keys of the order `shuffled`, anew each time all twelve have come
 */
export function keyOffset(keys: KeyRound, { keys: from }: Standing, round: number, seed: number): number {
  const step = from.step + Math.max(0, Math.floor((round - from.round) / keys.rounds));
  if (keys.order !== 'shuffled') return KEY_STEPS[keys.order][step % KEYS]!;
  return shuffled(seed, Math.floor(step / KEYS))[step % KEYS]!;
}

/** All keys in one order by chance; the first time the home key leads, later no key follows itself. */
function shuffled(seed: number, cycle: number): readonly number[] {
  const order = drawn(seed, cycle);
  if (cycle > 0 && drawn(seed, cycle - 1).at(-1) === order[0]) {
    return [order[1]!, order[0]!, ...order.slice(2)];
  }
  return order;
}

function drawn(seed: number, cycle: number): readonly number[] {
  const random = randomFor(seed, 'key round', cycle);
  const left = Array.from({ length: KEYS }, (_, key) => key);
  const order = cycle === 0 ? left.splice(0, 1) : [];
  while (left.length > 0) order.push(...left.splice(random.below(left.length), 1));
  return order;
}

/** The interval a chart is moved by, spelled so that its roots read best; null where it stays. */
export function keyInterval(written: Changes, semitones: number): Interval | null {
  if (semitones === 0) return null;
  const known = intervals.get(written) ?? new Map<number, Interval>();
  intervals.set(written, known);
  let interval = known.get(semitones);
  if (interval === undefined) {
    const roots = written.spans.flatMap(({ chord }) => (chord === null ? [] : [chord.root]));
    known.set(semitones, (interval = plainestInterval(roots, semitones)));
  }
  return interval;
}
const intervals = new WeakMap<Changes, Map<number, Interval>>();

/** Changes as written, moved to another key; one object for each key. */
export function changesInKey(written: Changes, semitones: number): Changes {
  const interval = keyInterval(written, semitones);
  if (interval === null) return written;
  const known = moved.get(written) ?? new Map<number, Changes>();
  moved.set(written, known);
  let changes = known.get(semitones);
  if (changes === undefined) {
    const move = mover(interval);
    const spans = written.spans.map((span) => ({
      ...span,
      chord: move(span.chord),
      written: move(span.written),
    }));
    known.set(semitones, (changes = { ...written, spans }));
  }
  return changes;
}
const moved = new WeakMap<Changes, Map<number, Changes>>();

/** A form with its chords moved as {@link changesInKey} moves them; places in the text stay what they are. */
export function formInKey(form: Form, written: Changes, semitones: number): Form {
  const interval = keyInterval(written, semitones);
  if (interval === null) return form;
  const move = mover(interval);
  return {
    ...form,
    bars: form.bars.map((played) => ({
      ...played,
      bar: {
        ...played.bar,
        slots: played.bar.slots.map((slot) => ({ ...slot, chord: move(slot.chord) })),
      },
    })),
  };
}

/** Moves chords by an interval; one object for one chord, so that what was held together stays so. */
function mover(interval: Interval): (chord: Chord | null) => Chord | null {
  const known = new Map<Chord, Chord>();
  return (chord) => {
    if (chord === null) return null;
    let there = known.get(chord);
    if (there === undefined) known.set(chord, (there = transposeChord(chord, interval)));
    return there;
  };
}
