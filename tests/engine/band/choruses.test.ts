import { describe, expect, it } from 'vitest';
import {
  bpm,
  comp,
  drum,
  FEELS,
  pitchClass,
  PPQ,
  STYLES,
  walk,
  type BandSettings,
  type Changes,
  type NoteEvent,
} from '../../../src/engine/index.ts';
import { byBar, changesOf, FORMS, roundsOf, strokesIn } from './plans.ts';

const ROUNDS = 5;
const TEMPI = [56, 90, 120, 140, 170, 200, 240, 300];

/** What a thousand choruses come to: every form, many seeds, all tempi, densities and intensities. */
interface Count {
  choruses: number;
  /** Bars, those alike to the bar before in every stroke, by part. */
  bars: number;
  drumsAgain: number;
  bassAgain: number;
  rhythmAgain: number;
  changes: number;
  grounded: number;
  bassNotes: number;
  unexplained: number;
  outOfRange: number;
  steps: number;
  led: number;
  lowest: Set<number>;
  highest: Set<number>;
  /** Leaps of more than an octave. */
  leaps: number;
  /** Bass notes as high as the lowest note of the chord that sounds. */
  crossed: number;
  /** Natural fifths and ninths under a dominant whose own are altered. */
  undone: number;
  chordsOutOfRange: number;
  /** Bars without a chord, and those that follow another such. */
  silent: number;
  silentAgain: number;
  /** Bars that end a section or the round, and those with a set-up or fill. */
  ends: number;
  setUp: number;
}

const nothing = (): Count => ({
  choruses: 0,
  bars: 0,
  drumsAgain: 0,
  bassAgain: 0,
  rhythmAgain: 0,
  changes: 0,
  grounded: 0,
  bassNotes: 0,
  unexplained: 0,
  outOfRange: 0,
  steps: 0,
  led: 0,
  lowest: new Set(),
  highest: new Set(),
  leaps: 0,
  crossed: 0,
  undone: 0,
  chordsOutOfRange: 0,
  silent: 0,
  silentAgain: 0,
  ends: 0,
  setUp: 0,
});

/** A bar's notes in a form that two like bars share: twelfths of a beat, and what is struck there. */
function likeness(bar: readonly NoteEvent[], start: number, what: (note: NoteEvent) => string): string {
  const twelfth = (note: NoteEvent) => Math.floor((note.at - start) / (PPQ / 12));
  return [...new Set(bar.map((note) => `${twelfth(note)} ${what(note)}`))].sort().join('; ');
}

function alike(bars: readonly string[]): number {
  return bars.filter((bar, index) => bar === bars[index - 1]).length;
}

function likenesses(
  rounds: readonly (readonly NoteEvent[])[],
  changes: Changes,
  what: (note: NoteEvent) => string,
): readonly string[] {
  return rounds.flatMap((notes) =>
    byBar(notes, changes).map((bar, index) => likeness(bar, changes.bars[index]!.start, what)),
  );
}

type Rounds = ReturnType<typeof roundsOf>;

function countInto(count: Count, music: string, settings: Partial<BandSettings>): void {
  const changes = changesOf(music);
  const [bass, drums, chords] = [walk, drum, comp].map((player) =>
    roundsOf(player, changes, ROUNDS, settings),
  ) as [Rounds, Rounds, Rounds];
  count.choruses += ROUNDS;
  count.bars += ROUNDS * changes.bars.length;
  count.drumsAgain += alike(likenesses(drums, changes, (note) => `${note.pitch}`));
  count.bassAgain += alike(likenesses(bass, changes, (note) => `${note.pitch}`));
  count.rhythmAgain += alike(likenesses(chords, changes, () => ''));
  countChords(count, chords, bass, changes);
  countEnds(count, drums, changes);
  for (const notes of bass) {
    count.bassNotes += notes.length;
    count.unexplained += notes.filter((note) => note.why.length < 4).length;
    count.outOfRange += notes.filter((note) => note.pitch < 28 || note.pitch > 55).length;
    const line = notes.filter((note) => !/^(skip|drop)/.test(note.why));
    line.forEach((note, index) => {
      const size = Math.abs(note.pitch - (line[index - 1]?.pitch ?? note.pitch));
      if (index > 0 && size <= 2) count.steps++;
      if (size > 12) count.leaps++;
    });
    for (const { start, length, chord } of changes.spans) {
      const under = notes.filter((note) => note.at >= start && note.at < start + length);
      const above = (note: NoteEvent) => (note.pitch - pitchClass(chord!.root) + 120) % 12;
      if (chord!.altered) {
        count.undone += under.filter((note) => above(note) === 7 || above(note) === 2).length;
      }
      const ground = pitchClass(chord!.bass ?? chord!.root);
      const first = line.find((note) => note.at >= start && note.at < start + PPQ / 8);
      count.changes++;
      if (first !== undefined && first.pitch % 12 === ground) count.grounded++;
    }
    const home = pitchClass(changes.spans[0]!.chord!.root);
    const above = (line.at(-1)!.pitch - home + 120) % 12;
    if ([1, 2, 5, 7, 10, 11].includes(above)) count.led++;
    count.lowest.add(Math.min(...line.map((note) => note.pitch)));
    count.highest.add(Math.max(...line.map((note) => note.pitch)));
  }
}

function countChords(count: Count, chords: Rounds, bass: Rounds, changes: Changes): void {
  // Five voicing styles share this room; on a vamp it reaches a fifth higher.
  const { low, high } = { low: STYLES.rootless.low, high: STYLES.rootless.high + 7 };
  chords.forEach((notes, round) => {
    count.chordsOutOfRange += notes.filter(({ pitch }) => pitch < low || pitch > high).length;
    for (const note of bass[round]!) {
      const sounding = notes.filter(({ at, length }) => at < note.at + note.length && at + length > note.at);
      if (sounding.some(({ pitch }) => pitch <= note.pitch)) count.crossed++;
    }
    const silent = byBar(notes, changes).map((bar) => bar.length === 0);
    count.silent += silent.filter(Boolean).length;
    count.silentAgain += silent.filter((is, index) => is && silent[index - 1] === true).length;
  });
}

function countEnds(count: Count, drums: Rounds, { bars, ...changes }: Changes): void {
  if (bars.length < 8) return;
  drums.forEach((notes) => {
    byBar(notes, { bars, ...changes }).forEach((bar, index) => {
      if (index + 1 < bars.length && bars[index + 1]!.mark === null) return;
      count.ends++;
      if (bar.some(({ why }) => /^(set-up|fill)/.test(why))) count.setUp++;
    });
  });
}

function choruses(feel: string, each: number): Count {
  const count = nothing();
  for (const music of Object.values(FORMS)) {
    for (let k = 0; k < each; k++) {
      countInto(count, music, {
        feel,
        seed: 7 * k + 1,
        tempo: bpm(TEMPI[k % TEMPI.length]!),
        density: (k % 5) / 4,
        intensity: ((3 * k) % 5) / 4,
      });
    }
  }
  return count;
}

const share = (part: number, whole: number): number => part / whole;

describe('a thousand choruses of swing', () => {
  const count = choruses('swing', 25);

  it('are a thousand', () => {
    expect(count.choruses).toBe(1000);
    expect(count.bassNotes).toBeGreaterThan(40_000);
  });

  it('keep the bass in its range, every note with its reason', () => {
    expect(count.outOfRange).toBe(0);
    expect(count.unexplained).toBe(0);
  });

  it('have root or written bass on the first beat of 95 changes in a hundred', () => {
    expect(share(count.grounded, count.changes)).toBeGreaterThanOrEqual(0.95);
  });

  it('move the bass mostly by step, yet not always', () => {
    expect(share(count.steps, count.bassNotes)).toBeGreaterThan(0.5);
    expect(share(count.steps, count.bassNotes)).toBeLessThan(0.8);
  });

  it('lead the bass into the next round', () => {
    expect(share(count.led, count.choruses)).toBeGreaterThan(0.95);
  });

  it('never leap the bass by more than an octave, and keep it under the chords', () => {
    expect(count.leaps).toBe(0);
    expect(share(count.crossed, count.bassNotes)).toBeLessThan(0.002);
  });

  it('have neither natural fifth nor natural ninth under an altered dominant', () => {
    expect(count.undone).toBe(0);
  });

  it('keep the chords in their range, and never leave two bars running without one', () => {
    expect(count.chordsOutOfRange).toBe(0);
    expect(share(count.silent, count.bars)).toBeLessThan(0.06);
    expect(share(count.silentAgain, count.bars)).toBeLessThan(0.002);
  });

  it('show nearly nine in ten new sections and rounds by a set-up or a fill', () => {
    expect(count.ends).toBeGreaterThan(500);
    expect(share(count.setUp, count.ends)).toBeGreaterThan(0.8);
    expect(share(count.setUp, count.ends)).toBeLessThan(1);
  });

  it('turn the bass back at many heights', () => {
    expect(count.lowest.size).toBeGreaterThan(8);
    expect(count.highest.size).toBeGreaterThan(8);
  });

  it('repeat a bar of the bass hardly ever, a bar of the drums once in a while', () => {
    expect(share(count.bassAgain, count.bars)).toBeLessThan(0.02);
    expect(share(count.drumsAgain, count.bars)).toBeGreaterThan(0.02);
    expect(share(count.drumsAgain, count.bars)).toBeLessThan(0.3);
  });

  it('share a comping rhythm with the bar before in far fewer than half of the bars', () => {
    expect(share(count.rhythmAgain, count.bars)).toBeLessThan(0.2);
  });
});

describe.each([...FEELS.keys()].filter((id) => id !== 'swing'))('choruses of %s', (feel) => {
  const count = choruses(feel, 3);

  it('keep to the same rules', () => {
    expect(count.outOfRange).toBe(0);
    expect(count.unexplained).toBe(0);
    expect(share(count.grounded, count.changes)).toBeGreaterThanOrEqual(0.95);
    expect(share(count.bassAgain, count.bars)).toBeLessThan(0.1);
    expect(share(count.drumsAgain, count.bars)).toBeLessThan(0.5);
    expect(share(count.rhythmAgain, count.bars)).toBeLessThan(0.35);
    expect(count.undone).toBe(0);
    expect(count.chordsOutOfRange).toBe(0);
    expect(share(count.leaps, count.bassNotes)).toBeLessThan(0.002);
    expect(share(count.crossed, count.bassNotes)).toBeLessThan(0.004);
    expect(share(count.silentAgain, count.bars)).toBeLessThan(0.02);
    expect(share(count.setUp, count.ends)).toBeGreaterThan(0.75);
  });
});

describe('the player’s hand on the band', () => {
  const many = (set: Partial<BandSettings>) =>
    [1, 2, 3, 4, 5, 6, 7, 8].flatMap((seed) =>
      ['twelve-bar blues', 'two-five-ones', 'one chord'].flatMap((form) =>
        roundsOf(comp, FORMS[form]!, 3, { ...set, seed }).flatMap(strokesIn),
      ),
    ).length;

  it.each([...FEELS.keys()])('makes the comping of %s busier with every step of density', (feel) => {
    const counts = [0, 0.25, 0.5, 0.75, 1].map((density) => many({ feel, density }));
    counts.slice(1).forEach((count, index) => expect(count).toBeGreaterThan(counts[index]!));
  });

  it('is felt in every part: harder is louder', () => {
    const mean = (player: typeof comp, intensity: number) => {
      const notes = roundsOf(player, FORMS['two-five-ones']!, 3, { intensity }).flat();
      return notes.reduce((sum, { velocity }) => sum + velocity, 0) / notes.length;
    };
    for (const player of [comp, walk, drum]) {
      expect(mean(player, 0.2)).toBeLessThan(mean(player, 0.5) - 3);
      expect(mean(player, 0.5)).toBeLessThan(mean(player, 0.8) - 3);
    }
  });
});

describe('accents', () => {
  it('lie on 2 and 4 of cymbal and bass, and no two strokes of a bar are alike', () => {
    const changes = changesOf(FORMS['two-five-ones']!);
    const loud = (player: typeof comp, beats: readonly number[], wanted: (note: NoteEvent) => boolean) => {
      const notes = roundsOf(player, changes, 4)
        .flat()
        .filter((note) => wanted(note) && beats.includes(Math.floor(note.at / PPQ) % 4))
        .filter((note) => note.at % PPQ < PPQ / 8);
      return notes.reduce((sum, { velocity }) => sum + velocity, 0) / notes.length;
    };
    const ride = ({ pitch }: NoteEvent) => pitch === 51 || pitch === 59;
    expect(loud(drum, [1, 3], ride)).toBeGreaterThan(loud(drum, [0, 2], ride) + 4);
    expect(loud(walk, [1, 3], () => true)).toBeGreaterThan(loud(walk, [0, 2], () => true) + 2);
    const [notes] = roundsOf(drum, changes, 1);
    for (const bar of byBar(notes!, changes)) {
      const struck = bar.filter(ride).map(({ velocity }) => velocity);
      expect(new Set(struck).size).toBeGreaterThan(struck.length / 2);
    }
  });
});

describe('a chord that lasts eight bars', () => {
  it.each(['rootless', 'drop-2', 'fourths'] as const)('is moved through the register, %s', (voicing) => {
    for (let seed = 1; seed < 9; seed++) {
      const rounds = roundsOf(comp, FORMS['one chord']!, 4, { voicing, seed });
      const tops = rounds.flatMap((notes) =>
        strokesIn(notes).map((stroke) => Math.max(...stroke.map(({ pitch }) => pitch))),
      );
      expect(Math.max(...tops) - Math.min(...tops)).toBeGreaterThanOrEqual(7);
    }
  });
});
