import {
  barLength,
  readChord,
  ticks,
  type BandSettings,
  type Carry,
  type Changes,
  type Degree,
  type Metre,
  type NoteEvent,
  type PartPlayer,
  type PlayedBar,
  type RoundPlan,
  type Span,
  type Ticks,
} from '../../../src/engine/index.ts';
import { SETTINGS } from '../../helpers/plan.ts';

export { SETTINGS };

/** Nothing sounds. */
export const SILENCE: Carry = { bass: null, voicing: null, ringsUntil: null };

/**
 * Changes from a line of music: bars parted by `|`, the chords of a bar share it evenly, `NC` is no chord
 * and `??` an unreadable one, `[A]` begins a section, `3/4:` changes the metre. A chord that stands again
 * on its own in the next bar goes on as one span, as the arrangement hands it to the band.
 */
export function changesOf(music: string): Changes {
  let metre: Metre = { count: 4, unit: 4 };
  let at = 0;
  const bars: PlayedBar[] = [];
  const spans: Span[] = [];
  for (const text of music.split('|')) {
    const words = text.trim().split(/\s+/);
    let mark: string | null = null;
    const chords: string[] = [];
    for (const word of words) {
      const time = /^(\d+)\/(\d+):$/.exec(word);
      if (time) metre = { count: Number(time[1]), unit: Number(time[2]) as Metre['unit'] };
      else if (/^\[\w+\]$/.test(word)) mark = word.slice(1, -1);
      else if (word !== '') chords.push(word);
    }
    const length = barLength(metre);
    bars.push({ start: ticks(at), length, metre, mark, written: bars.length, skipped: ticks(0) });
    chords.forEach((word, index) => {
      const start = at + Math.round((length * index) / chords.length);
      const end = at + Math.round((length * (index + 1)) / chords.length);
      const span = spanOf(word, start, end - start, bars.length - 1);
      const last = spans.at(-1);
      if (last && last.chord?.text === span.chord?.text && last.silence === span.silence) {
        spans[spans.length - 1] = { ...last, length: ticks(last.length + span.length) };
      } else spans.push(span);
    });
    at += length;
  }
  return { length: ticks(at), bars, spans };
}

function spanOf(word: string, start: number, length: number, bar: number): Span {
  const silence = word === 'NC' ? 'no-chord' : word === '??' ? 'gap' : null;
  const read = silence === null ? readChord(word) : null;
  if (read !== null && !read.ok) throw new RangeError(`"${word}" is no chord: ${read.error.message}`);
  const chord = read?.ok ? read.value : null;
  return {
    start: ticks(start),
    length: ticks(length),
    chord,
    written: chord,
    silence,
    treatment: null,
    bar,
    from: 0,
    to: 0,
  };
}

/** A round of `music` that goes round and round. */
export function planOf(
  music: string | Changes,
  settings: Partial<BandSettings> = {},
  plan: Partial<RoundPlan> = {},
): RoundPlan {
  const changes = typeof music === 'string' ? changesOf(music) : music;
  return {
    changes,
    next: changes.spans[0] ?? null,
    settings: { ...SETTINGS, ...settings },
    round: 0,
    from: ticks(0),
    carry: SILENCE,
    ...plan,
  };
}

/** What sounds at `at`, read off a round's notes. */
export function carryOf(notes: readonly NoteEvent[], at: number, before: Carry = SILENCE): Carry {
  const earlier = notes.filter((note) => note.at < at);
  const bass = earlier.filter((note) => note.part === 'bass').at(-1)?.pitch ?? before.bass;
  const strokes = earlier.filter((note) => note.part === 'comp');
  const chord = strokes.filter((note) => note.at === strokes.at(-1)?.at);
  if (chord.length === 0) return { ...before, bass };
  return {
    bass,
    voicing: {
      pitches: chord.map((note) => note.pitch),
      names: chord.map((note) => note.name!),
      degrees: chord.map((note) => note.degree as Degree),
    },
    ringsUntil: ticks(Math.max(...chord.map((note) => note.at + note.length))),
  };
}

/** `count` rounds of one part, each joining on to the one before. */
export function roundsOf(
  player: PartPlayer,
  music: string | Changes,
  count: number,
  settings: Partial<BandSettings> = {},
): readonly (readonly NoteEvent[])[] {
  const changes = typeof music === 'string' ? changesOf(music) : music;
  const rounds: (readonly NoteEvent[])[] = [];
  let carry: Carry = SILENCE;
  for (let round = 0; round < count; round++) {
    const notes = player(planOf(changes, settings, { round, carry }));
    rounds.push(notes);
    const after = carryOf(notes, changes.length, carry);
    const rings = after.ringsUntil === null ? null : ticks(after.ringsUntil - changes.length);
    carry = { ...after, ringsUntil: rings };
  }
  return rounds;
}

/** The notes that begin in each bar, by place in the bar. A note may be late by its hand, never early. */
export function byBar(notes: readonly NoteEvent[], changes: Changes): readonly (readonly NoteEvent[])[] {
  return changes.bars.map(({ start, length }) =>
    notes.filter((note) => note.at >= start && note.at < start + length),
  );
}

/** Groups notes struck together. */
export function strokesIn(notes: readonly NoteEvent[]): readonly (readonly NoteEvent[])[] {
  const strokes = new Map<Ticks, NoteEvent[]>();
  for (const note of notes) {
    const there = strokes.get(note.at);
    if (there) there.push(note);
    else strokes.set(note.at, [note]);
  }
  return [...strokes.values()];
}

/** Common forms, and shapes that are hard on a band. Common practice or our own inventions. */
export const FORMS: Readonly<Record<string, string>> = {
  'twelve-bar blues':
    'F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | Am7b5 D7b9 | Gm7 | C7 | F7 D7alt | Gm7 C7alt',
  'minor blues': 'Cm7 | Fm7 | Cm7 | C7alt | Fm7 | Fm7 | Cm7 | Cm7 | Ab7 | G7alt | Cm7 | Dm7b5 G7b9',
  'two-five-ones':
    'Dm7 | G7alt | Cmaj7 | Cmaj7 | Cm7 | F7alt | Bbmaj7 | Bbmaj7 | Bbm7 | Eb7 | Abmaj7 | Am7b5 D7alt | Gm7 | C7 | Fmaj7 | A7#5',
  'two-beat turnaround':
    'Cmaj7 A7alt | Dm7 G7alt | Em7 A7b9 | Dm7 G7 | Cmaj7 C7/E | F6 F#dim7 | Cmaj7/G A7alt | Dm7 G7b9',
  'one chord': 'C7alt | C7alt | C7alt | C7alt | C7alt | C7alt | C7alt | C7alt',
  'thirty-two bars':
    '[A] Bb6 G7alt | Cm7 F7 | Dm7 G7b9 | Cm7 F7 | Fm7 Bb7 | Eb6 Edim7 | Bb6/F G7 | Cm7 F7 |' +
    '[A] Bb6 G7alt | Cm7 F7 | Dm7 G7b9 | Cm7 F7 | Fm7 Bb7 | Eb6 Edim7 | Cm7 F7 | Bb6 |' +
    '[B] D7 | D7alt | G7 | G7alt | C7 | C7alt | F7 | F7alt |' +
    '[A] Bb6 G7alt | Cm7 F7 | Dm7 G7b9 | Cm7 F7 | Fm7 Bb7 | Eb6 Edim7 | Cm7 F7 | Bb6',
  'a chord a beat': 'Cmaj7 C#dim7 Dm7 D#dim7 | Em7 A7alt Dm7 G7alt | Cmaj7 | Gm7 C7 F6 Fm6',
  'slash basses': 'C/E | Fmaj7 | C/G | G7/F | Dm7/G | G7sus4 | C/Bb | Am7',
};
