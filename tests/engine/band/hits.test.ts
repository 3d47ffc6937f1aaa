import { describe, expect, it } from 'vitest';
import {
  beats,
  bpm,
  comp,
  drum,
  FEELS,
  PPQ,
  ticks,
  walk,
  type BandSettings,
  type NoteEvent,
  type PartPlayer,
  type PlacedHit,
} from '../../../src/engine/index.ts';
import { kicksOf } from '../../../src/engine/band/hits.ts';
import { styleOf } from '../../../src/engine/band/style.ts';
import { planOf, strokesIn } from './plans.ts';

const MUSIC = 'Dm7 | G7alt | Cmaj7 | A7alt';
const SEEDS = [1, 2, 3, 4, 5, 6, 7, 8];

/** A hit in bar `bar` on beat `beat`, both counted from 1. */
const hitAt = (bar: number, beat: number, set: Partial<PlacedHit> = {}): PlacedHit => ({
  id: `${bar} ${beat}`,
  bar: bar - 1,
  at: beats(beat - 1),
  accent: 'strong',
  length: 'long',
  by: 'band',
  stop: false,
  ...set,
});

function played(
  player: PartPlayer,
  hits: readonly PlacedHit[],
  settings: Partial<BandSettings> = {},
  music = MUSIC,
): readonly NoteEvent[] {
  return player(planOf(music, settings, { hits }));
}

/** Notes whose onset lies within a hand's lateness of `at`. */
const at = (notes: readonly NoteEvent[], tick: number) =>
  notes.filter((note) => note.at >= tick && note.at < tick + PPQ / 12);

const bar = (notes: readonly NoteEvent[], index: number) =>
  notes.filter((note) => note.at >= index * beats(4) && note.at < (index + 1) * beats(4));

const swungAnd = (tick: number, settings: Partial<BandSettings> = {}) => {
  const { offbeat } = styleOf(planOf(MUSIC, settings));
  return tick + Math.round(offbeat * PPQ);
};

describe('a written hit', () => {
  it.each(SEEDS)('is struck by comp, bass and drums together, take %i', (seed) => {
    const hits = [hitAt(1, 3), hitAt(3, 2.5, { length: 'short' })];
    for (const player of [comp, walk, drum]) {
      const notes = played(player, hits, { seed });
      expect(at(notes, beats(2)).length, 'on the beat').toBeGreaterThan(0);
      expect(at(notes, swungAnd(beats(9))).length, 'off the beat').toBeGreaterThan(0);
    }
  });

  it('is swung with the band on an off-beat, straight where the feel is, and stays a triplet', () => {
    const hits = [hitAt(1, 2.5), { ...hitAt(2, 1), at: ticks((4 * PPQ) / 3) }];
    const places = (feel: string) => {
      const plan = planOf(MUSIC, { feel }, { hits });
      return kicksOf(plan, styleOf(plan)).list.map((kick) => kick.at);
    };
    expect(places('swing')).toEqual([swungAnd(beats(1)), beats(4) + (4 * PPQ) / 3]);
    expect(swungAnd(beats(1))).toBeGreaterThan(beats(1.55));
    expect(places('bossa')).toEqual([beats(1.5), beats(4) + (4 * PPQ) / 3]);
  });

  it.each(SEEDS)('off the beat before a change sounds the chord that comes, bass too, take %i', (seed) => {
    const hits = [hitAt(1, 4.5)];
    const there = swungAnd(beats(3), { seed });
    const chord = at(played(comp, hits, { seed }), there);
    expect(chord).toHaveLength(4);
    for (const { why } of chord) expect(why).toMatch(/of G7alt: written hit, pushed into the change/);
    const bass = played(walk, hits, { seed });
    expect(at(bass, there).map(({ name }) => name)).toEqual(['G']);
    // A long push is tied over the beat, by all.
    expect(at(bass, beats(4))).toEqual([]);
    expect(at(played(comp, hits, { seed }), beats(4))).toEqual([]);
  });

  it('hard upon a change that comes between the beats sounds the chord that comes', () => {
    // Three chords in two beats: the second begins on the last third of beat 1, the swung off-beat just before.
    const music = '2/4: C7alt Ebmaj7 C7alt | 2/4: C7alt';
    const notes = played(
      comp,
      [hitAt(1, 1.5, { length: 'short' })],
      { tempo: bpm(30), swingRatio: 1.8 },
      music,
    );
    const struck = notes.filter(({ why }) => why.includes('written hit'));
    expect(struck.map(({ why }) => /of (\S+):/.exec(why)![1])).toEqual(Array(4).fill('Ebmaj7'));
    for (const { length } of struck) expect(length).toBeGreaterThan(PPQ / 50);
  });

  it('at the end of the round sounds the first chord of the next', () => {
    const chord = at(played(comp, [hitAt(4, 4.5)]), swungAnd(beats(15)));
    expect(chord[0]!.why).toContain('Dm7');
    expect(at(played(walk, [hitAt(4, 4.5)]), swungAnd(beats(15)))[0]!.name).toBe('D');
  });

  it('leaves the change after a short push to the bass', () => {
    const bass = played(walk, [hitAt(1, 4.5, { length: 'short' })]);
    expect(at(bass, beats(4)).map(({ name }) => name)).toEqual(['G']);
  });

  it('is as long and as strong as it is written', () => {
    const of = (set: Partial<PlacedHit>) => at(played(comp, [hitAt(3, 2, set)]), beats(9))[0]!;
    expect(of({ length: 'short' }).length).toBeLessThan(of({ length: 'long' }).length / 2);
    expect(of({ accent: 'light' }).velocity).toBeLessThan(of({ accent: 'strong' }).velocity);
    const drums = (set: Partial<PlacedHit>) =>
      Math.max(...at(played(drum, [hitAt(3, 2, set)]), beats(9)).map(({ velocity }) => velocity));
    expect(drums({ accent: 'light' })).toBeLessThan(drums({ accent: 'strong' }));
  });

  it.each([...FEELS.keys()])('is set up by the drums in %s, before it and not after it', (feel) => {
    for (const seed of SEEDS) {
      const notes = played(drum, [hitAt(3, 1)], { feel, seed });
      const before = notes.filter(({ why }) => why.startsWith('sets up the hit'));
      expect(before.length).toBeGreaterThan(0);
      for (const note of before) {
        expect(note.at).toBeLessThan(beats(8));
        expect(note.at).toBeGreaterThanOrEqual(beats(6));
      }
    }
  });

  it('that follows hard upon another is not set up again', () => {
    const notes = played(drum, [hitAt(2, 1), hitAt(2, 2), hitAt(2, 2.5)]);
    const set = notes.filter(({ why }) => why.startsWith('sets up the hit'));
    expect(set.every((note) => note.at < beats(4))).toBe(true);
  });

  it('on the first beat of the round is set up in its last bar', () => {
    const set = played(drum, [hitAt(1, 1)]).filter(({ why }) => why.startsWith('sets up the hit'));
    expect(set.length).toBeGreaterThan(0);
    expect(set.every((note) => note.at >= beats(14))).toBe(true);
  });

  it('for the comping hand alone leaves bass and drums as they were', () => {
    const hits = [hitAt(2, 2.5, { by: 'comp', stop: true })];
    for (const player of [walk, drum]) expect(played(player, hits)).toEqual(played(player, []));
    expect(at(played(comp, hits), swungAnd(beats(5))).length).toBe(4);
  });

  it.each(SEEDS)('changes nothing two bars further on, take %i', (seed) => {
    for (const player of [comp, walk, drum]) {
      const rhythm = (hits: readonly PlacedHit[]) =>
        strokesIn(bar(played(player, hits, { seed }), 3)).map(([note]) => Math.round(note!.at / (PPQ / 12)));
      expect(rhythm([hitAt(1, 2.5)])).toEqual(rhythm([]));
    }
  });

  it('has the bar to itself in stop time', () => {
    const hits = [hitAt(2, 1, { stop: true }), hitAt(2, 2.5, { length: 'short' })];
    for (const player of [comp, walk]) {
      const notes = bar(played(player, hits), 1);
      expect(strokesIn(notes).length).toBe(2);
    }
    const drums = bar(played(drum, hits), 1);
    expect(drums.every(({ why }) => why === 'written hit')).toBe(true);
    expect(bar(played(drum, hits), 2).length).toBeGreaterThan(4);
  });

  it('is not played in bars left to the player', () => {
    const trade = { bars: 2, every: 4, goesOn: 'drums' } as const;
    expect(bar(played(comp, [hitAt(3, 2)], { trade }), 2)).toEqual([]);
    const goesOn = { trade: { ...trade, goesOn: 'bass-and-drums' } } as const;
    for (const player of [walk, drum]) {
      expect(played(player, [hitAt(3, 2.5)], goesOn)).toEqual(played(player, [], goesOn));
    }
  });

  it('finds no chord where none is played, and the drums play on', () => {
    expect(at(played(comp, [hitAt(2, 2)], {}, 'C | NC | C | C'), beats(5))).toEqual([]);
  });

  it('outside its bar’s length waits for a longer metre', () => {
    expect(played(comp, [hitAt(1, 9)])).toEqual(played(comp, []));
  });
});
