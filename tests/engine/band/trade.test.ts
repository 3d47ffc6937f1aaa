import { describe, expect, it } from 'vitest';
import {
  beats,
  FEELS,
  pitchClass,
  PPQ,
  startPerformance,
  ticks,
  type NoteEvent,
  type Part,
  type Trade,
} from '../../../src/engine/index.ts';
import { planOf, SETTINGS } from '../../helpers/plan.ts';

const BAR = beats(4);
const BLUES = '| F7 | Bb7 | F7 | % | Bb7 | % | F7 | D7 | Gm7 | C7 | F7 D7 | Gm7 C7 |';
const FOURS: Trade = { bars: 4, every: 8, goesOn: 'drums' };
const HATS = [42, 44];
const SEEDS = Array.from({ length: 10 }, (_, seed) => seed);

const played = (trade: Trade, seed: number, text = BLUES, feel = 'swing'): readonly NoteEvent[] =>
  startPerformance(planOf(text, { settings: { ...SETTINGS, feel, seed, trade } }), {
    countIn: 0,
    from: ticks(0),
  }).notes(ticks(0), ticks(48 * BAR));
const barOf = ({ at }: NoteEvent) => Math.floor(at / BAR);
const isOpen = (bar: number, { bars, every }: Trade = FOURS) => bar % every >= every - bars;
const openIn = (notes: readonly NoteEvent[], part: Part, trade: Trade = FOURS) =>
  notes.filter((note) => note.part === part && isOpen(barOf(note), trade));

describe('bars left to the player', () => {
  it('are without bass, and without chords but for the push back into the band', () => {
    for (const seed of SEEDS) {
      const notes = played(FOURS, seed);
      expect(openIn(notes, 'bass')).toEqual([]);
      for (const note of openIn(notes, 'comp')) {
        expect(note.why).toContain('pushed into the change');
        expect(isOpen(barOf(note) + 1)).toBe(false);
      }
      expect(openIn(notes, 'drums').length).toBeGreaterThan(100);
    }
  });

  it('are counted on from chorus to chorus, and are played again in between', () => {
    for (const seed of SEEDS) {
      const notes = played(FOURS, seed);
      for (let bar = 0; bar < 48; bar++) {
        const bass = notes.filter((note) => note.part === 'bass' && barOf(note) === bar);
        expect(bass.length > 0, `bar ${bar}`).toBe(!isOpen(bar));
      }
    }
  });

  it('are not rung into by what was struck before', () => {
    for (const seed of SEEDS) {
      const notes = played(FOURS, seed).filter(({ part }) => part === 'bass' || part === 'comp');
      for (const note of notes) {
        if (note.why.includes('pushed') || isOpen(barOf(note))) continue;
        const end = note.at + note.length - 1;
        expect(isOpen(Math.floor(end / BAR)), note.why).toBe(false);
      }
    }
  });

  it('are followed by the root of the chord that sounds then', () => {
    const roots: Readonly<Record<number, string>> = { 0: 'F', 4: 'Bb', 8: 'G' };
    for (const seed of SEEDS) {
      const bass = played(FOURS, seed).filter(({ part }) => part === 'bass');
      for (let bar = 8; bar < 48; bar += 8) {
        const first = bass.find(({ at }) => at >= bar * BAR)!;
        expect(first.at - bar * BAR).toBeLessThan(PPQ / 8);
        expect(first.pitch % 12).toBe(pitchClass(roots[bar % 12]!));
      }
    }
  });

  it('keep the time of the drums and none of their comments', () => {
    for (const note of SEEDS.flatMap((seed) => openIn(played(FOURS, seed), 'drums'))) {
      expect(note.why).not.toMatch(/comping|fill|set-up/);
    }
  });

  it('may keep the bass', () => {
    const trade: Trade = { bars: 2, every: 4, goesOn: 'bass-and-drums' };
    const notes = played(trade, 1);
    expect(openIn(notes, 'bass', trade).length).toBeGreaterThan(80);
    for (const note of openIn(notes, 'comp', trade)) expect(note.why).toContain('pushed');
  });

  it('may be a drum solo over the hi-hat, never the same bar twice running', () => {
    const trade: Trade = { bars: 4, every: 8, goesOn: 'drum-solo' };
    let [bars, again] = [0, 0];
    for (const seed of SEEDS) {
      const drums = openIn(played(trade, seed), 'drums');
      for (const note of drums) {
        const isSolo = note.why.startsWith('drum solo');
        expect(isSolo || HATS.includes(note.pitch), note.why).toBe(true);
      }
      let before = '';
      for (let bar = 0; bar < 48; bar++) {
        if (!isOpen(bar)) continue;
        const solo = drums.filter((note) => barOf(note) === bar && note.why.startsWith('drum solo'));
        expect(solo.length).toBeGreaterThan(1);
        const likeness = solo[0]!.why;
        if (likeness === before) again++;
        bars++;
        before = likeness;
      }
    }
    expect(again / bars).toBeLessThan(0.25);
  });

  it.each([...FEELS.keys()])('are a drum solo in every metre: %s', (feel) => {
    const trade: Trade = { bars: 1, every: 2, goesOn: 'drum-solo' };
    for (const metre of ['', '3/4 ', '5/4 ', '7/8 ', '12/8 ']) {
      const drums = played(trade, 3, `${metre}| F7 | % | Bb7 | % |`, feel).filter(
        ({ part }) => part === 'drums',
      );
      expect(
        drums.some(({ why }) => why.startsWith('drum solo')),
        metre,
      ).toBe(true);
    }
  });

  it('are none where they would be all', () => {
    expect(played({ bars: 8, every: 8, goesOn: 'drums' }, 1)).toEqual(
      startPerformance(planOf(BLUES), { countIn: 0, from: ticks(0) }).notes(ticks(0), ticks(48 * BAR)),
    );
  });

  it('are counted alike to the end of a vamp', () => {
    const settings = { ...SETTINGS, trade: FOURS };
    const vamp = startPerformance(planOf('| C7alt |', { settings }), { countIn: 0, from: ticks(0) });
    const until = ticks(11 * BAR);
    const struck = (notes: readonly NoteEvent[]) =>
      notes.filter(({ part }) => part === 'bass').map((note) => barOf(note));
    expect(new Set(struck(vamp.finish(beats(37)).notes(ticks(0), until)))).toEqual(
      new Set(struck(vamp.notes(ticks(0), until))),
    );
  });
});
