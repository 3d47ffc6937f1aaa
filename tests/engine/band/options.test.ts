import { describe, expect, it } from 'vitest';
import {
  beats,
  comp,
  countIn,
  FEELS,
  pitchClass,
  PPQ,
  walk,
  type BandSettings,
  type NoteEvent,
} from '../../../src/engine/index.ts';
import { byBar, changesOf, FORMS, planOf, roundsOf, SETTINGS, strokesIn } from './plans.ts';

const FORM =
  '[A] Cmaj7 A7 | Dm7 G7 | Cmaj7 A7alt | Dm7 G7 | [B] Fmaj7 | Bb7 | Em7 A7 | Dm7 G7 | [C] Cmaj7 | A7 | Dm7 | G7';
const bass = (music: string, settings: Partial<BandSettings>, round = 0) =>
  walk(planOf(music, settings, { round }));
const barsOn = (notes: readonly NoteEvent[], music: string, pc: number) =>
  byBar(notes, changesOf(music))
    .map((bar, index) => (bar.every(({ pitch }) => pitch % 12 === pc) ? index : -1))
    .filter((index) => index >= 0);

describe('a pedal', () => {
  it('is the fifth of the key under every chord of the last section, however they change', () => {
    const notes = bass(FORM, { pedal: { on: 'fifth', where: 'last-section' } });
    expect(barsOn(notes, FORM, pitchClass('G'))).toEqual([8, 9, 10, 11]);
    for (const note of notes.filter(({ why }) => why.startsWith('pedal'))) expect(note.name).toBe('G');
  });

  it('is the root of the key in the first section, throughout, or in every other round', () => {
    const on = 'root';
    // Under A7alt C is the raised ninth.
    expect(barsOn(bass(FORM, { pedal: { on, where: 'first-section' } }), FORM, 0)).toEqual([0, 1, 2, 3]);
    expect(barsOn(bass(FORM, { pedal: { on, where: 'throughout' } }), FORM, 0)).toHaveLength(12);
    const every = { pedal: { on, where: 'every-other-round' } } as const;
    expect(barsOn(bass(FORM, every, 2), FORM, 0)).toHaveLength(12);
    expect(barsOn(bass(FORM, every, 1), FORM, 0).length).toBeLessThan(2);
  });

  it('is led up to: the note before it approaches the pedal, not the root of the chord', () => {
    for (let seed = 1; seed < 12; seed++) {
      const notes = bass(FORM, { seed, pedal: { on: 'fifth', where: 'last-section' } });
      const before = notes.findLast(({ at, why }) => at < beats(32) && !/^(skip|drop)/.test(why))!;
      expect([1, 2, 5, 7, 10, 11]).toContain((before.pitch - pitchClass('G') + 120) % 12);
    }
  });

  it('gives way under an altered dominant whose natural fifth or ninth it would be', () => {
    const music = 'Cmaj7 | Dm7 | G7 | Cmaj7 | F7alt | Em7 | Dm7 G7 | Cmaj7';
    for (let seed = 1; seed < 9; seed++) {
      const bars = byBar(
        bass(music, { seed, pedal: { on: 'fifth', where: 'throughout' } }),
        changesOf(music),
      );
      // G is the natural ninth of F7alt.
      expect(['F', 'A']).toContain(bars[4]![0]!.name);
      expect(bars[4]!.some(({ pitch }) => pitch % 12 === 7)).toBe(false);
      expect(bars[1]!.every(({ pitch }) => pitch % 12 === 7)).toBe(true);
    }
    const root = 'Cmaj7 | Dm7 | Em7 A7 | Dm7 | F7alt | G7 | Dm7 G7 | Cmaj7';
    const notes = bass(root, { pedal: { on: 'root', where: 'throughout' } });
    // C is the natural fifth of F7alt.
    expect(byBar(notes, changesOf(root))[4]!.some(({ pitch }) => pitch % 12 === 0)).toBe(false);
  });

  it('leaves written basses as they are', () => {
    const notes = bass('C/E | Fmaj7', { pedal: { on: 'root', where: 'throughout' } });
    expect(notes[0]!.pitch % 12).toBe(pitchClass('E'));
  });
});

describe('the approach by the tritone substitute', () => {
  const music = 'Dm7 | G7 | Cmaj7 | Cmaj7 | Am7 | D7 | G7 | Cmaj7';
  const rate = (settings: Partial<BandSettings>) => {
    let [taken, all] = [0, 0];
    for (let seed = 1; seed <= 40; seed++) {
      const line = bass(music, { seed, ...settings }).filter(({ why }) => !/^(skip|drop)/.test(why));
      for (const bar of [2, 6, 7]) {
        const index = line.findIndex(({ at }) => at >= beats(4 * bar));
        const [before, goal] = [line[index - 1]!, line[index]!];
        all++;
        if ((before.pitch - goal.pitch + 120) % 12 === 1) taken++;
      }
    }
    return taken / all;
  };

  it('comes from a semitone above nearly every time, and more often than unasked', () => {
    const asked = rate({ approach: 'tritone' });
    expect(asked).toBeGreaterThan(rate({}) + 0.15);
    expect(asked).toBeLessThan(0.98);
  });

  it('says so', () => {
    const why = bass(music, { approach: 'tritone', seed: 3 }).map((note) => note.why);
    expect(why.some((words) => /^root of the tritone substitute, a semitone above [CG]$/.test(words))).toBe(
      true,
    );
  });
});

describe('a manner of comping', () => {
  const rhythms = (settings: Partial<BandSettings>) =>
    roundsOf(comp, FORMS['one chord']!, 6, { seed: 4, ...settings }).flatMap((notes) =>
      byBar(notes, changesOf(FORMS['one chord']!)).map((bar) => strokesIn(bar).length),
    );
  const share = (list: readonly number[], is: (count: number) => boolean) =>
    list.filter(is).length / list.length;

  it('is four to the bar in every feel of four beats', () => {
    for (const feel of ['swing', 'bossa', 'ballad', 'shuffle']) {
      expect(share(rhythms({ feel, comping: 'four' }), (count) => count === 4)).toBeGreaterThan(0.85);
    }
  });

  it('is sparse: one chord or two in a bar, held', () => {
    expect(share(rhythms({ comping: 'pads', density: 1 }), (count) => count <= 2)).toBeGreaterThan(0.95);
    expect(share(rhythms({ density: 1 }), (count) => count <= 2)).toBeLessThan(0.8);
    const [notes] = roundsOf(comp, FORMS['one chord']!, 1, { comping: 'pads' });
    const lengths = strokesIn(notes!).map(([note]) => note!.length / PPQ);
    expect(lengths.filter((length) => length > 1).length / lengths.length).toBeGreaterThan(0.8);
  });

  it('is the Charleston and its kin: a chord on the beat and one off it', () => {
    for (const feel of FEELS.keys()) {
      expect(
        share(rhythms({ feel, comping: 'charleston' }), (count) => count <= 3),
        feel,
      ).toBeGreaterThan(0.9);
    }
    expect(share(rhythms({ comping: 'charleston' }), (count) => count === 2)).toBeGreaterThan(0.6);
  });
});

describe('a count-in with sticks', () => {
  it('has the same beats, the first of them louder, on another sound', () => {
    const metre = { count: 4, unit: 4 } as const;
    const [click, sticks] = [SETTINGS, { ...SETTINGS, count: 'sticks' as const }].map((settings) =>
      countIn(metre, 2, settings),
    );
    expect(sticks!.map(({ at }) => at)).toEqual(click!.map(({ at }) => at));
    expect(new Set(sticks!.map(({ pitch }) => pitch))).toEqual(new Set([31]));
    expect(sticks![0]!.velocity).toBeGreaterThan(sticks![1]!.velocity);
  });
});
