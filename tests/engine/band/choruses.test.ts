import { describe, expect, it } from 'vitest';
import {
  bpm,
  comp,
  drum,
  FEELS,
  pitchClass,
  PPQ,
  walk,
  type BandSettings,
  type Changes,
  type NoteEvent,
} from '../../../src/engine/index.ts';
import { byBar, changesOf, FORMS, roundsOf } from './plans.ts';

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
  for (const notes of bass) {
    count.bassNotes += notes.length;
    count.unexplained += notes.filter((note) => note.why.length < 4).length;
    count.outOfRange += notes.filter((note) => note.pitch < 28 || note.pitch > 55).length;
    const line = notes.filter((note) => !/^(skip|drop)/.test(note.why));
    line.forEach((note, index) => {
      if (index > 0 && Math.abs(note.pitch - line[index - 1]!.pitch) <= 2) count.steps++;
    });
    for (const { start, chord } of changes.spans) {
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
  });
});
