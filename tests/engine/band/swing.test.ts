import { describe, expect, it } from 'vitest';
import {
  bpm,
  comp,
  drum,
  PPQ,
  swingRatioAt,
  walk,
  type NoteEvent,
  type PartPlayer,
} from '../../../src/engine/index.ts';
import { offbeatAt } from '../../../src/engine/band/swing.ts';
import reference from '../../../shared/reference/swing-ratio.json' with { type: 'json' };
import { byBar, FORMS, planOf } from './plans.ts';

describe('the swing ratio', () => {
  it.each(reference.ratios)('at $tempo bpm is $ratio to one', ({ tempo, ratio }) => {
    expect(swingRatioAt(tempo)).toBeCloseTo(ratio, 10);
  });

  it('never rises with the tempo, and is never above the largest measured', () => {
    for (let tempo = 30; tempo < 400; tempo++) {
      expect(swingRatioAt(tempo + 1)).toBeLessThanOrEqual(swingRatioAt(tempo));
      expect(swingRatioAt(tempo)).toBeLessThanOrEqual(reference.largest);
      expect(swingRatioAt(tempo)).toBeGreaterThanOrEqual(1);
    }
  });

  it.each([29, 401, Number.NaN])('has no answer at %s bpm', (tempo) => {
    expect(() => swingRatioAt(tempo)).toThrow(RangeError);
  });
});

describe('the off-beat', () => {
  it('lies in the middle of the beat where the feel is straight, whatever ratio is asked for', () => {
    expect(offbeatAt('straight', 3, bpm(120))).toBe(0.5);
  });

  it('follows the ratio the player sets', () => {
    expect(offbeatAt('tempo', 2, bpm(120))).toBeCloseTo(2 / 3, 10);
  });

  it('of a shuffle gives way to the tempo at speed', () => {
    expect(offbeatAt(2, null, bpm(100))).toBeCloseTo(2 / 3, 10);
    expect(offbeatAt(2, null, bpm(240))).toBeCloseTo(1.5 / 2.5, 10);
  });
});

describe('the ride as played', () => {
  /** Long part over short part of every beat that the ride divides, and the short part in milliseconds. */
  const measured = (tempo: number) => {
    const plan = planOf('C7 | '.repeat(63) + 'C7', { tempo: bpm(tempo) });
    const ride = drum(plan).filter((note) => note.pitch === 51 || note.pitch === 59);
    const ratios: number[] = [];
    const shorts: number[] = [];
    const onBeat = (note: NoteEvent) => note.at % PPQ < PPQ / 8;
    for (const [index, note] of ride.entries()) {
      const [before, after] = [ride[index - 1], ride[index + 1]];
      if (onBeat(note) || !before || !after || !onBeat(before) || !onBeat(after)) continue;
      if (after.at - before.at > 1.2 * PPQ) continue;
      const short = after.at - note.at;
      ratios.push((note.at - before.at) / short);
      shorts.push((short / PPQ) * (60_000 / tempo));
    }
    const mean = (values: number[]) => values.reduce((a, b) => a + b, 0) / values.length;
    expect(ratios.length).toBeGreaterThan(20);
    return { ratio: mean(ratios), short: mean(shorts) };
  };

  it('keeps the ratio of its tempo within a tenth', () => {
    for (const { tempo, ratio } of reference.ratios.filter((row) => row.tempo >= 80)) {
      expect(Math.abs(measured(tempo).ratio / ratio - 1), `${tempo} bpm`).toBeLessThan(0.1);
    }
  });

  it('has a short note of about 100 ms from medium tempo up', () => {
    for (const tempo of [140, 160, 200, 240, 280]) {
      expect(Math.abs(measured(tempo).short - reference.shortNoteMs), `${tempo} bpm`).toBeLessThan(6);
    }
  });

  it('swings alike in every bar', () => {
    const plan = planOf('C7 | F7 | C7 | C7', { tempo: bpm(180) });
    const offbeats = byBar(drum(plan), plan.changes)
      .flat()
      .filter((note) => note.pitch === 51 && note.at % PPQ > PPQ / 8)
      .map((note) => (note.at % PPQ) / PPQ);
    const spread = Math.max(...offbeats) - Math.min(...offbeats);
    expect(offbeats.length).toBeGreaterThan(3);
    expect(spread).toBeLessThan(0.01);
  });
});

describe('the band together', () => {
  it('shares its off-beats: chords and bass fall on them with the cymbal, a few milliseconds apart at most', () => {
    for (const tempo of [90, 140, 200, 260]) {
      const plan = planOf(FORMS['two-five-ones']!, { tempo: bpm(tempo) });
      const offbeat = offbeatAt('tempo', null, plan.settings.tempo);
      const late = [comp, walk, drum].flatMap((player) =>
        player(plan)
          .map((note) => (note.at % PPQ) / PPQ)
          .filter((place) => Math.abs(place - offbeat) < 0.05)
          .map((place) => (place - offbeat) * (60_000 / tempo)),
      );
      expect(late.length).toBeGreaterThan(20);
      expect(Math.min(...late)).toBeGreaterThan(-0.1);
      expect(Math.max(...late)).toBeLessThan(8);
    }
  });

  it('has the chords a little behind the beat, the bass on it', () => {
    const mean = (player: PartPlayer) => {
      const plan = planOf(FORMS['two-five-ones']!, { tempo: bpm(150) });
      const late = player(plan)
        .map((note) => ((note.at % PPQ) / PPQ) * 400)
        .filter((milliseconds) => milliseconds < 25);
      return late.reduce((a, b) => a + b, 0) / late.length;
    };
    expect(mean(comp)).toBeGreaterThan(5);
    expect(mean(comp)).toBeLessThan(15);
    expect(mean(walk)).toBeLessThan(4);
  });
});
