import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beats,
  carryBars,
  readText,
  startPerformance,
  ticks,
  type BandSettings,
  type NoteEvent,
  type Performance,
} from '../../../src/engine/index.ts';
import { planOf } from '../../helpers/plan.ts';

const CHART = '| Dm7 | G7 | Cmaj7 | A7 |';
const BAR = beats(4);
const play = (text = CHART, countIn = 0) => startPerformance(planOf(text), { countIn, from: ticks(0) });
const bar = (n: number, beat = 0) => ticks(n * BAR + beats(beat));
const key = (note: NoteEvent) => `${note.part} ${note.at} ${note.pitch}`;
const chordAt = (performance: Performance, at: number) => {
  const place = performance.locate(at);
  return place.changes.spans[place.span]!.chord?.text;
};

describe('a performance', () => {
  it('gives the same notes whole and in pieces, in any order', () => {
    const whole = play().notes(ticks(0), bar(24));
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 24 * BAR - 1 }), { maxLength: 12 }), (cuts) => {
        const edges = [0, ...cuts.sort((a, b) => a - b), 24 * BAR];
        const asked = play();
        const pieces = edges.slice(1).map((to, i) => [edges[i]!, to] as const);
        const heard = new Map(
          [...pieces].reverse().map(([from, to]) => [from, asked.notes(ticks(from), ticks(to))]),
        );
        expect(pieces.flatMap(([from]) => heard.get(from)!)).toEqual(whole);
      }),
      { numRuns: 20 },
    );
  });

  it('counts in before the first beat', () => {
    const performance = play(CHART, 1);
    expect(performance.begin).toBe(-BAR);
    const count = performance.notes(ticks(-BAR), ticks(0));
    expect(count.filter((note) => note.at % beats(1) === 0)).toHaveLength(4);
  });

  it('never sounds a bass note over the next one', () => {
    const bass = play()
      .notes(ticks(0), bar(32))
      .filter((note) => note.part === 'bass');
    bass.slice(1).forEach((next, i) => expect(bass[i]!.at + bass[i]!.length).toBeLessThanOrEqual(next.at));
  });

  it('never sounds a chord over the next one, in one round or from round to round', () => {
    for (let seed = 0; seed < 12; seed++) {
      for (const text of ['| Dm7 |  |', '| G7 | % | % | % |', CHART]) {
        const plan = planOf(text);
        const performance = startPerformance(
          { ...plan, settings: { ...plan.settings, seed } },
          { countIn: 0, from: ticks(0) },
        );
        const chords = performance.notes(ticks(0), bar(48)).filter((note) => note.part === 'comp');
        const onsets = [...new Set(chords.map((note) => note.at))];
        for (const note of chords) {
          const next = onsets.find((at) => at > note.at) ?? Infinity;
          expect(note.at + note.length, `${text}, seed ${seed}`).toBeLessThanOrEqual(next);
        }
      }
    }
  });

  it('does not play two rounds alike', () => {
    const performance = play();
    const round = (n: number) =>
      performance
        .notes(bar(n * 8), bar(n * 8 + 8))
        .map((note) => key({ ...note, at: ticks(note.at - n * 8 * BAR) }));
    expect(round(1)).not.toEqual(round(0));
    expect(round(2)).not.toEqual(round(1));
  });
});

describe('a live touch', () => {
  it('alters from its beat on, then goes back, and leaves what came before alone', () => {
    const before = play();
    const touched = before.touch(bar(1, 2), beats(2), 'altered');
    expect(touched.notes(ticks(0), bar(1, 2)).map(key)).toEqual(before.notes(ticks(0), bar(1, 2)).map(key));
    expect(chordAt(touched, bar(1, 1))).toBe('G7');
    expect(chordAt(touched, bar(1, 2))).toBe('G7alt');
    expect(chordAt(touched, bar(2))).toBe('Cmaj7');
    expect(chordAt(touched, bar(5, 2))).toBe('G7');
  });

  it('is struck by the comping on that very beat', () => {
    for (let seed = 0; seed < 40; seed++) {
      const plan = planOf(CHART);
      const performance = startPerformance(
        { ...plan, settings: { ...plan.settings, seed } },
        { countIn: 0, from: ticks(0) },
      );
      const touched = performance.touch(bar(1, 2), beats(2), 'altered');
      const struck = touched.notes(bar(1, 2), ticks(bar(1, 2) + 1)).filter((note) => note.part === 'comp');
      expect(struck, `seed ${seed}`).toHaveLength(4);
    }
  });

  it('leaves no chord of the old colour ringing under the new one', () => {
    for (let seed = 0; seed < 40; seed++) {
      const plan = planOf('| G7 | % | % | % |');
      const performance = startPerformance(
        { ...plan, settings: { ...plan.settings, seed } },
        { countIn: 0, from: ticks(0) },
      );
      const touched = performance.touch(bar(1, 2), beats(2), 'altered');
      const over = touched
        .notes(ticks(0), bar(1, 2))
        .filter((note) => note.part === 'comp' && note.at + note.length > bar(1, 2));
      expect(over, `seed ${seed}`).toEqual([]);
    }
  });

  it('held on, lasts until it is let go, over bar lines and rounds', () => {
    const held = play('| G7 | C7 |').touch(bar(1), null, 'altered');
    expect(chordAt(held, bar(9))).toBe('C7alt');
    const released = held.release(bar(3));
    expect(chordAt(released, bar(2))).toBe('G7alt');
    expect(chordAt(released, bar(3))).toBe('C7');
    expect(released.touches).toEqual([{ at: bar(1), length: BAR * 2, kind: 'altered' }]);
  });

  it('changes nothing where no dominant lies', () => {
    const plain = play();
    const touched = plain.touch(bar(2), beats(4), 'altered');
    expect(chordAt(touched, bar(2))).toBe('Cmaj7');
  });

  it('gives the same notes however it is reached', () => {
    const one = play().touch(bar(1), beats(1), 'altered').touch(bar(3), beats(2), 'altered');
    const other = play().touch(bar(3), beats(2), 'altered').touch(bar(1), beats(1), 'altered');
    expect(other.notes(ticks(0), bar(16))).toEqual(one.notes(ticks(0), bar(16)));
  });
});

describe('an edit while the band plays', () => {
  const edited = (before: string, after: string, at: number) => {
    const [a, b] = [readText(before), readText(after)];
    const performance = startPerformance(planOf(before), { countIn: 0, from: ticks(0) });
    return performance.revise(planOf(after), ticks(at), carryBars(a.chart, b.chart));
  };

  it('is heard from its tick on, in the same bar of the music', () => {
    const performance = edited(CHART, '| Dm7 | G7 | Am7 | A7 |', bar(1));
    expect(chordAt(performance, bar(1))).toBe('G7');
    expect(chordAt(performance, bar(2))).toBe('Am7');
    expect(chordAt(performance, bar(4))).toBe('Dm7');
  });

  it('keeps its place when bars go in before it or come out', () => {
    expect(chordAt(edited(CHART, '| Em7 | A7 | Dm7 | G7 | Cmaj7 | A7 |', bar(1)), bar(2))).toBe('Cmaj7');
    expect(chordAt(edited(CHART, '| G7 | Cmaj7 | A7 |', bar(1)), bar(2))).toBe('Cmaj7');
    expect(chordAt(edited(CHART, '| Dm7 | G7 | A7 |', bar(2)), bar(2))).toBe('A7');
  });

  it('into a loop begins the loop, from inside it stays where it is', () => {
    const performance = play();
    const loop = { from: bar(1), to: bar(3) };
    expect(chordAt(performance.revise(planOf(CHART, { loop }), bar(4)), bar(4))).toBe('G7');
    const inside = performance.revise(planOf(CHART, { loop }), bar(2));
    expect(chordAt(inside, bar(2))).toBe('Cmaj7');
    expect(chordAt(inside, bar(3))).toBe('G7');
  });

  it('is not undone by an earlier edit that was still to come', () => {
    const [a, b] = [readText(CHART), readText('| Em7 | Dm7 | G7 | Am7 | A7 |')];
    const rule = {
      id: 'r',
      kind: 'altered',
      scope: 'every-dominant',
      extent: { type: 'whole' },
      bars: null,
    } as const;
    const layers = { placed: [], rules: [{ ...rule, when: { type: 'always' } as const }] };
    const performance = play()
      .revise(planOf(b.chart.text), bar(2), carryBars(a.chart, b.chart))
      .revise(planOf(b.chart.text, { layers }), bar(1, 2));
    expect(chordAt(performance, bar(1, 2))).toBe('G7alt');
    expect(chordAt(performance, bar(2))).toBe('Am7');
    expect(chordAt(performance, bar(3))).toBe('A7alt');
  });

  it('loses and doubles nothing at the seam', () => {
    const performance = edited(CHART, '| Dm7 | G7 | Am7 | A7 |', bar(1));
    const notes = performance.notes(ticks(0), bar(12)).map(key);
    expect(new Set(notes).size).toBe(notes.length);
    for (let n = 0; n < 12; n++) {
      const beat = performance.notes(bar(n), bar(n + 1)).filter((note) => note.part === 'bass');
      expect(beat.length, `bass in bar ${n}`).toBeGreaterThan(1);
    }
  });
});

describe('beats and bars', () => {
  it('are found from any tick', () => {
    const performance = play('| 3/4 C7 | 4/4 F7 |');
    expect(performance.nextBeat(1)).toBe(beats(1));
    expect(performance.nextBeat(beats(2))).toBe(beats(2));
    expect(performance.nextBeat(beats(2.5))).toBe(beats(3));
    expect(performance.nextBar(beats(0.5))).toBe(beats(3));
    expect(performance.nextBar(beats(3))).toBe(beats(3));
    expect(performance.nextBar(beats(6))).toBe(beats(7));
  });

  it('of a loop that begins inside a bar lie on the beats of that bar', () => {
    const loop = { from: beats(1.5), to: beats(6) };
    const performance = startPerformance(planOf('| C7 | F7 |', { loop }), { countIn: 0, from: ticks(0) });
    expect(performance.nextBeat(1)).toBe(beats(0.5));
    expect(performance.nextBar(1)).toBe(beats(2.5));
    expect(performance.nextBar(beats(3))).toBe(beats(4.5));
  });
});

describe('a change of the band while it plays', () => {
  const CHANGES: Readonly<Record<string, Partial<BandSettings>>> = {
    'half time': { time: 'half' },
    'double time': { time: 'double' },
    'in two': { two: 'first-round' },
    'rising over the rounds': { build: 4 },
    'bars for the player': { trade: { bars: 2, every: 4, goesOn: 'drums' } },
    'four to the bar': { comping: 'four' },
    'a pedal': { pedal: { on: 'fifth', where: 'throughout' } },
    'the tritone substitute': { approach: 'tritone' },
    'another feel': { feel: 'bossa' },
    'more swing': { swingRatio: 3 },
    'harder and busier': { intensity: 1, density: 1 },
  };

  it.each(Object.keys(CHANGES))('to %s takes hold at the bar and stumbles nowhere', (name) => {
    const plan = planOf(CHART);
    const before = startPerformance(plan, { countIn: 0, from: ticks(0) });
    const at = bar(6);
    const after = before.revise({ ...plan, settings: { ...plan.settings, ...CHANGES[name] } }, at);
    const back = after.revise(plan, bar(9));
    const notes = back.notes(ticks(0), bar(12));
    const heard = before.notes(ticks(0), at);
    expect(notes.filter((note) => note.at < at).map(key)).toEqual(heard.map(key));
    expect(new Set(notes.map(key)).size).toBe(notes.length);
    for (const part of ['comp', 'bass'] as const) {
      const own = notes.filter((note) => note.part === part);
      const onsets = [...new Set(own.map((note) => note.at))];
      for (const note of own) {
        const next = onsets.find((onset) => onset > note.at) ?? Infinity;
        expect(note.at + note.length).toBeLessThanOrEqual(next);
      }
    }
    const changed = notes.filter((note) => note.at >= at && note.at < bar(9)).map(key);
    const plain = before.notes(at, bar(9)).map(key);
    expect(changed).not.toEqual(plain);
    expect(changed.length).toBeGreaterThan(10);
  });
});
