import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beats,
  bpm,
  firstStanding,
  formTickOf,
  KEY_ORDERS,
  keyOffset,
  ladderRounds,
  ladderTempo,
  NO_PRACTICE,
  readText,
  roundChanges,
  roundLength,
  rungBack,
  startPerformance,
  ticks,
  type NoteEvent,
  type Performance,
  type PlayPlan,
  type Practice,
} from '../../../src/engine/index.ts';
import { planOf } from '../../helpers/plan.ts';

const CHART = '| Dm7 | G7 | Cmaj7 | A7 |';
const BAR = beats(4);
const bar = (n: number, beat = 0) => ticks(n * BAR + beats(beat));
const practised = (practice: Partial<Practice>, plan: Partial<PlayPlan> = {}, text = CHART) =>
  planOf(text, { practice: { ...NO_PRACTICE, ...practice }, ...plan });
const play = (plan: PlayPlan, countIn = 0) => startPerformance(plan, { countIn, from: ticks(0) });
const chordsOf = (plan: PlayPlan, round = 0) =>
  roundChanges(plan, round).spans.map(
    ({ chord, silence, length }) => `${chord?.text ?? silence} ${length / beats(1)}`,
  );
const chordAt = (performance: Performance, at: number) => {
  const place = performance.locate(at);
  return place.changes.spans[place.span]!.chord?.text;
};
const isMusic = ({ part }: NoteEvent) => part !== 'click';

describe('a snippet', () => {
  const loop = { from: bar(1, 2), to: bar(2) };

  it('is heard with its run-up and its landing', () => {
    const plan = practised({ runUp: beats(2), landing: beats(4) }, { loop });
    expect(chordsOf(plan)).toEqual(['G7 4', 'Cmaj7 4']);
    expect(roundLength(plan)).toBe(beats(8));
  });

  it('reaches round the end of the form, at both ends', () => {
    const plan = practised({ runUp: beats(6), landing: beats(0) }, { loop: { from: bar(0), to: bar(1) } });
    expect(chordsOf(plan)).toEqual(['Cmaj7 2', 'A7 4', 'Dm7 4']);
    const after = practised({ landing: beats(4) }, { loop: { from: bar(3), to: bar(4) } });
    expect(chordsOf(after)).toEqual(['A7 4', 'Dm7 4']);
  });

  it('rests for the bars asked for, then is counted in: nobody else plays', () => {
    const plan = practised({ rest: 1, countIn: 1, landing: beats(4) }, { loop });
    expect(chordsOf(plan)).toEqual(['G7 2', 'Cmaj7 4', 'rest 8']);
    const performance = play(plan);
    for (let round = 0; round < 6; round++) {
      const start = round * roundLength(plan);
      const [music, rest, count] = [start, start + beats(6), start + beats(10)].map(ticks);
      expect(
        performance.notes(music!, rest!).some(({ at, part }) => at < music! + beats(1) && part === 'bass'),
      ).toBe(true);
      expect(performance.notes(rest!, count!)).toEqual([]);
      const counted = performance.notes(count!, ticks(count! + BAR));
      expect(counted.map(({ at }) => (at - count!) / beats(1))).toEqual([0, 1, 2, 3]);
      expect(counted.every(({ part, counts }) => part === 'click' && counts === true)).toBe(true);
      const ringing = performance.notes(music!, rest!).filter(isMusic);
      expect(
        Math.max(...ringing.filter(({ part }) => part !== 'drums').map(({ at, length }) => at + length)),
      ).toBeLessThanOrEqual(rest!);
    }
  });

  it('tells where in the form it is, and nothing in the rest', () => {
    const plan = practised({ runUp: beats(6), rest: 1 }, { loop: { from: bar(0), to: bar(1) } });
    expect(formTickOf(plan, 0)).toBe(bar(2, 2));
    expect(formTickOf(plan, beats(5))).toBe(bar(3, 3));
    expect(formTickOf(plan, beats(6))).toBe(0);
    expect(formTickOf(plan, beats(10))).toBe(null);
  });

  it('never has a length that its bars and chords do not fill', () => {
    const length = readText(CHART).written.length;
    fc.assert(
      fc.property(
        fc.nat({ max: 40 }),
        fc.nat({ max: 40 }),
        fc.nat({ max: 3 }),
        fc.nat({ max: 2 }),
        fc.nat({ max: 15 }),
        fc.integer({ min: 1, max: 16 }),
        (runUp, landing, rest, countIn, from, beatsLong) => {
          const loop = { from: beats(from), to: ticks(Math.min(length, beats(from + beatsLong))) };
          const plan = practised({ runUp: beats(runUp), landing: beats(landing), rest, countIn }, { loop });
          const changes = roundChanges(plan, 0);
          expect(changes.length).toBe(roundLength(plan));
          for (const line of [changes.spans, changes.bars]) {
            let at = 0;
            for (const { start, length: long } of line) {
              expect(start).toBe(at);
              at += long;
            }
            expect(at).toBe(changes.length);
          }
        },
      ),
    );
  });
});

describe('a ladder', () => {
  const ladder = { from: bpm(72), to: bpm(90), step: 5, rounds: 4 };
  const standing = firstStanding({ ...NO_PRACTICE, ladder }, bpm(120));

  it('climbs by its step after its rounds, and stays at its end', () => {
    const tempi = [0, 3, 4, 8, 11, 12, 16, 500].map((round) => ladderTempo(ladder, standing, round));
    expect(tempi).toEqual([72, 72, 77, 82, 82, 87, 90, 90]);
    expect(ladderTempo(ladder, standing, ladderRounds(ladder))).toBe(90);
    expect(ladderTempo(ladder, standing, ladderRounds(ladder) - 1)).toBeLessThan(90);
  });

  it('leads down as well', () => {
    const down = { ...ladder, from: bpm(90), to: bpm(72) };
    const from = firstStanding({ ...NO_PRACTICE, ladder: down }, bpm(120));
    expect([0, 4, 100].map((round) => ladderTempo(down, from, round))).toEqual([90, 85, 72]);
  });

  it('has a rung back, never out of what the band can play', () => {
    expect(rungBack(ladder, bpm(82))).toBe(77);
    expect(rungBack(ladder, bpm(31))).toBe(30);
  });

  it('is told to whoever plays, with the bar that counts the round in', () => {
    const performance = play(practised({ ladder, countIn: 1, rest: 1 }), 1);
    const round = bar(6);
    expect(performance.tempi(ticks(0), ticks(5 * round))).toEqual([
      { at: 0, tempo: 72 },
      { at: 4 * round - BAR, tempo: 77 },
    ]);
    expect(performance.tempi(ticks(1), ticks(4 * round - BAR))).toEqual([]);
  });

  it('swings as its tempo asks, not as the chart’s', () => {
    const fast = { ladder: { from: bpm(300), to: bpm(300), step: 5, rounds: 1 } };
    const offbeats = (performance: Performance) =>
      performance
        .notes(ticks(0), bar(64))
        .filter(({ part, pitch }) => part === 'drums' && pitch === 51)
        .map(({ at }) => (at % beats(1)) / beats(1))
        .filter((share) => share > 0.3 && share < 0.9);
    const even = offbeats(play(practised(fast)));
    expect(even.length).toBeGreaterThan(20);
    expect(Math.max(...even)).toBeLessThan(0.56);
    expect(Math.min(...offbeats(play(planOf(CHART))))).toBeGreaterThan(0.6);
  });
});

describe('a key round', () => {
  it('meets every key once in twelve, in every order', () => {
    for (const order of KEY_ORDERS) {
      for (let seed = 0; seed < 20; seed++) {
        const keys = { order, rounds: 2 };
        const met = Array.from({ length: 48 }, (_, i) =>
          keyOffset(keys, firstStanding(NO_PRACTICE, bpm(100)), i * 2, seed),
        );
        for (let cycle = 0; cycle < 4; cycle++) {
          expect(new Set(met.slice(12 * cycle, 12 * cycle + 12)).size).toBe(12);
        }
        met.slice(1).forEach((key, i) => expect(key).not.toBe(met[i]));
        expect(met[0]).toBe(0);
      }
    }
  });

  it('falls by fifths, in names that can be read', () => {
    const plan = practised({ keys: { order: 'falling-fifths', rounds: 1 } });
    const thirds = Array.from({ length: 12 }, (_, round) => roundChanges(plan, round).spans[2]!.chord!.text);
    expect(thirds.map((name) => name.replace('maj7', ''))).toEqual('C F Bb Eb Ab Db Gb B E A D G'.split(' '));
  });

  it('treats in every key what is treated at home', () => {
    const layers = {
      placed: [
        {
          id: 't1',
          kind: 'altered' as const,
          bar: 1,
          at: beats(2),
          length: beats(2),
          when: { type: 'always' as const },
        },
      ],
      rules: [],
    };
    const plan = practised({ keys: { order: 'rising-semitones', rounds: 1 } }, { layers });
    expect(chordsOf(plan, 1).slice(0, 3)).toEqual(['Ebm7 4', 'Ab7 2', 'Ab7alt 2']);
  });

  it('is what the band plays', () => {
    const performance = play(practised({ keys: { order: 'falling-fifths', rounds: 2 } }));
    expect([0, 4, 8, 12, 16].map((n) => chordAt(performance, bar(n)))).toEqual([
      'Dm7',
      'Dm7',
      'Gm7',
      'Gm7',
      'Cm7',
    ]);
    const bass = performance.notes(bar(8), bar(8, 1)).find(({ part }) => part === 'bass');
    expect(bass!.pitch % 12).toBe(7);
  });
});

describe('once more', () => {
  const ladder = { from: bpm(80), to: bpm(120), step: 10, rounds: 2 };

  it('plays the round from its beginning, and the ladder waits', () => {
    const performance = play(practised({ ladder })).again(bar(6));
    expect(performance.locate(bar(6))).toMatchObject({ round: 1, at: 0, roundStart: bar(6) });
    expect(chordAt(performance, bar(6))).toBe('Dm7');
    expect(performance.locate(bar(10)).round).toBe(2);
    expect(performance.tempi(bar(5), bar(12))).toEqual([
      { at: bar(6), tempo: 80 },
      { at: bar(10), tempo: 90 },
    ]);
  });

  it('is counted in where rounds are', () => {
    const performance = play(practised({ countIn: 1 })).again(bar(2));
    const counted = performance.notes(bar(2), bar(3));
    expect(counted.map(({ counts }) => counts)).toEqual([true, true, true, true]);
    expect(chordAt(performance, bar(3))).toBe('Dm7');
    expect(performance.locate(bar(3)).round).toBe(0);
  });

  it('comes in the same round, so that what was silent in it stays silent', () => {
    const layers = {
      placed: [],
      rules: [
        {
          id: 'r',
          kind: 'altered' as const,
          scope: 'falling-fifth' as const,
          extent: { type: 'whole' as const },
          bars: null,
          when: { type: 'every' as const, nth: 2 },
        },
      ],
    };
    const performance = play(practised({}, { layers })).again(bar(3));
    expect(chordAt(performance, bar(4))).toBe('G7');
    expect(chordAt(performance, bar(8))).toBe('G7alt');
  });

  it('leaves an end where it was agreed on, a round later', () => {
    const whole = play(practised({ rest: 1 })).finish(bar(1));
    const performance = play(practised({ rest: 1 }))
      .finish(bar(1))
      .again(bar(1));
    expect(performance.end! - whole.end!).toBe(BAR);
  });
});

describe('an end after rests', () => {
  it('comes right after the music, with a chord that is held', () => {
    const performance = play(practised({ rest: 2 })).finish(bar(1));
    const notes = performance.notes(ticks(0), performance.end!);
    const last = notes.filter(({ part }) => part === 'comp').at(-1)!;
    expect(last.at).toBeGreaterThan(bar(4));
    expect(last.at).toBeLessThan(bar(6));
    expect(performance.notes(performance.end!, ticks(performance.end! + bar(8)))).toEqual([]);
  });
});

describe('bars left to the player', () => {
  const silentIn = (who: 'comp' | 'bass' | 'comp-and-bass' | 'all', from: number, to: number) => {
    const performance = play(practised({ dropout: { who, bars: 2, every: 4 } }));
    return performance.notes(bar(from), bar(to));
  };
  const partsOf = (notes: readonly NoteEvent[]) =>
    new Set(notes.map(({ part, counts }) => (counts ? 'count' : part)));

  it('are without those who drop out, and with all others', () => {
    expect(partsOf(silentIn('comp', 2, 4))).toEqual(new Set(['bass', 'drums', 'click']));
    expect(partsOf(silentIn('comp-and-bass', 6, 8))).toEqual(new Set(['drums', 'click']));
    expect(partsOf(silentIn('bass', 4, 6)).has('bass')).toBe(true);
  });

  it('have nothing but a click on two and four when everybody drops out', () => {
    const notes = silentIn('all', 2, 4);
    expect(notes.map(({ at }) => (at - bar(2)) / beats(1))).toEqual([1, 3, 5, 7]);
    expect(partsOf(notes)).toEqual(new Set(['count']));
  });

  it('are not rung into', () => {
    const performance = play(practised({ dropout: { who: 'comp-and-bass', bars: 2, every: 4 } }));
    const before = performance.notes(bar(0), bar(2)).filter(({ part }) => part === 'comp' || part === 'bass');
    expect(Math.max(...before.map(({ at, length }) => at + length))).toBeLessThanOrEqual(bar(2));
  });
});

describe('what is practised can be changed as it goes', () => {
  it('with the music before the change untouched, whatever is changed', () => {
    const plans = [
      practised({}),
      practised({ rest: 1, countIn: 1 }),
      practised({ keys: { order: 'whole-tones', rounds: 1 } }),
      practised({ runUp: beats(4), landing: beats(2) }, { loop: { from: bar(1), to: bar(2) } }),
      practised({ dropout: { who: 'all', bars: 1, every: 2 } }),
      practised({ ladder: { from: bpm(60), to: bpm(100), step: 5, rounds: 1 } }),
    ];
    fc.assert(
      fc.property(
        fc.constantFrom(...plans),
        fc.constantFrom(...plans),
        fc.nat({ max: 20 }),
        (one, other, n) => {
          const before = play(one);
          const at = before.nextBar(bar(n) + 7);
          const after = before.revise(other, at);
          const onsets = (performance: Performance, from: number, to: number) =>
            performance.notes(ticks(from), ticks(to)).map((note) => `${note.part} ${note.at} ${note.pitch}`);
          expect(onsets(after, 0, at)).toEqual(onsets(before, 0, at));
          const place = after.locate(at);
          expect(place.at).toBeLessThan(place.changes.length);
          expect(onsets(after, at, at + bar(24)).length).toBeGreaterThan(10);
        },
      ),
      { numRuns: 40 },
    );
  });
});
