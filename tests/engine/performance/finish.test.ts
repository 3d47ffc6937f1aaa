import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beats,
  bpm,
  FEELS,
  pitchClass,
  startPerformance,
  ticks,
  type NoteEvent,
  type Performance,
  type PlayPlan,
} from '../../../src/engine/index.ts';
import { inTime, slowed } from '../../../src/engine/performance/ritard.ts';
import { planOf, SETTINGS } from '../../helpers/plan.ts';

const BAR = beats(4);
const TWO_FIVE = '| Dm7 | G7 | Cmaj7 | % | Dm7 | G7alt | Cmaj7 | A7 |';
const BLUES = '| F7 | Bb7 | F7 | % | Bb7 | % | F7 | D7 | Gm7 | C7 | F7 D7 | Gm7 C7 |';
const begin = (plan: PlayPlan) => startPerformance(plan, { countIn: 0, from: ticks(0) });
const play = (text: string, settings = {}) => begin(planOf(text, { settings: { ...SETTINGS, ...settings } }));
const all = (performance: Performance) => performance.notes(ticks(0), ticks(performance.end! + 20 * BAR));
const last = (performance: Performance) => {
  const held = all(performance).filter(({ why }) => why.startsWith('the last chord'));
  const of = (part: NoteEvent['part']) => held.filter((note) => note.part === part);
  return { at: held[0]!.at, comp: of('comp'), bass: of('bass'), drums: of('drums') };
};

describe('a ritard', () => {
  const ritard = { from: 1000 * BAR, to: 1002 * BAR };

  it('begins in time, slows down to the end, and goes on in its last tempo', () => {
    const length = (bar: number) => slowed((bar + 1) * BAR, ritard) - slowed(bar * BAR, ritard);
    expect(length(999)).toBe(BAR);
    expect(length(1000)).toBeGreaterThan(1.05 * BAR);
    expect(length(1001)).toBeGreaterThan(1.2 * length(1000));
    expect(length(1002)).toBeGreaterThan(1.1 * length(1001));
    expect(Math.abs(length(1003) - length(1002))).toBeLessThanOrEqual(1);
  });

  it('is undone to within a tick, and keeps the order of all beats', () => {
    fc.assert(
      fc.property(fc.integer({ min: 998 * BAR, max: 1004 * BAR }), fc.nat({ max: BAR }), (at, more) => {
        expect(Math.abs(inTime(slowed(at, ritard), ritard) - at)).toBeLessThanOrEqual(1);
        expect(slowed(at + more, ritard) - slowed(at, ritard)).toBeGreaterThanOrEqual(more - 1);
      }),
    );
  });
});

describe('the end', () => {
  it('comes after the round that is played, on the tonic the form comes round to', () => {
    const blues = play(BLUES).finish(ticks(14 * BAR));
    const { at, comp, bass, drums } = last(blues);
    expect(at).toBeGreaterThan(24 * BAR);
    expect(at).toBeLessThan(25.2 * BAR);
    expect(comp).toHaveLength(4);
    expect(bass.map(({ pitch }) => pitch % 12)).toEqual([pitchClass('F')]);
    expect(bass[0]!.pitch).toBeLessThanOrEqual(48);
    expect(drums).toHaveLength(2);
    for (const note of [...comp, ...bass, ...drums]) expect(note.at).toBe(at);
  });

  it('stands on the tonic though the form begins elsewhere, and on a vamp on the vamp', () => {
    expect(last(play(TWO_FIVE).finish(ticks(0))).bass[0]!.pitch % 12).toBe(pitchClass('C'));
    const vamp = last(play('| C7alt |').finish(ticks(5 * BAR)));
    expect(vamp.bass[0]!.pitch % 12).toBe(pitchClass('C'));
    expect(vamp.comp.map(({ degree }) => degree)).toEqual(expect.arrayContaining(['3', 'b7']));
    expect(vamp.at).toBeLessThan(8.2 * BAR);
  });

  it('is silence: nothing sounds after it', () => {
    for (const feel of FEELS.keys()) {
      const performance = play(TWO_FIVE, { feel }).finish(ticks(BAR));
      const end = performance.end!;
      const notes = all(performance);
      expect(notes.filter(({ at }) => at >= end)).toEqual([]);
      for (const note of notes) expect(note.at + note.length, feel).toBeLessThanOrEqual(end);
      expect(Math.max(...notes.map(({ at, length }) => at + length))).toBe(end);
    }
  });

  it('lets go of everything else when its chord is struck', () => {
    for (let seed = 0; seed < 20; seed++) {
      const performance = play(TWO_FIVE, { seed }).finish(ticks(0));
      const { at } = last(performance);
      const pitched = all(performance).filter(({ part }) => part === 'comp' || part === 'bass');
      for (const note of pitched.filter((one) => one.at < at)) {
        expect(note.at + note.length, note.why).toBeLessThanOrEqual(at);
      }
      expect(pitched.filter((note) => note.at < at).at(-1)!.why).not.toContain('pushed');
    }
  });

  it('leaves all that was played before alone', () => {
    const open = play(TWO_FIVE);
    const at = ticks(9 * BAR);
    const finished = open.finish(at);
    expect(open.end).toBeNull();
    expect(finished.notes(ticks(0), at)).toEqual(open.notes(ticks(0), at));
    expect(finished.finish(ticks(12 * BAR))).toBe(finished);
  });

  it('is not rushed: where the round has no time to slow down, another is played', () => {
    const slow = last(play(TWO_FIVE).finish(ticks(7 * BAR)));
    expect(slow.at).toBeGreaterThan(16 * BAR);
    const early = last(play(TWO_FIVE).finish(ticks(6 * BAR)));
    expect(early.at).toBeLessThan(9.2 * BAR);
  });

  it('slows down for two bars, for one where the tempo is slow', () => {
    const late = (tempo: number) => {
      const performance = play(TWO_FIVE, { tempo: bpm(tempo) }).finish(ticks(0));
      const clicks = all(performance).filter(({ part }) => part === 'click');
      return clicks.findIndex((note, i) => Math.abs(note.at - i * beats(1)) > 2);
    };
    expect(late(160)).toBe(25);
    expect(late(72)).toBe(29);
  });

  it('gives the same notes whole and in pieces', () => {
    const whole = all(play(BLUES).finish(ticks(0)));
    const length = 16 * BAR;
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: length - 1 }), { maxLength: 10 }), (cuts) => {
        const edges = [0, ...cuts.sort((a, b) => a - b), length];
        const asked = play(BLUES).finish(ticks(0));
        const pieces = edges.slice(1).flatMap((to, i) => asked.notes(ticks(edges[i]!), ticks(to)));
        expect(pieces).toEqual(whole);
      }),
      { numRuns: 10 },
    );
  });
});

describe('while the music slows down', () => {
  const performance = play(TWO_FIVE).finish(ticks(0));
  const clicks = all(performance).filter(({ part }) => part === 'click');

  it('every beat is found where it sounds', () => {
    clicks.forEach(({ at }, i) => {
      const place = performance.locate(at + 2);
      expect(place.bar).toBe(Math.floor(i / 4));
      expect(Math.abs(place.at - i * beats(1))).toBeLessThan(5);
      expect(at + 2 - place.roundStart - place.at).toBe(0);
      expect(Math.abs(performance.nextBeat(at - beats(0.5)) - at)).toBeLessThan(3);
      if (i % 4 === 0) expect(Math.abs(performance.nextBar(at - beats(0.5)) - at)).toBeLessThan(3);
    });
  });

  it('the last chord is found where it stands in the form', () => {
    const place = performance.locate(performance.end! - 1);
    expect(place.changes.spans[place.span]!.chord!.text).toBe('Cmaj7');
    expect(place.round).toBe(0);
  });

  it('a live touch still reaches its beat', () => {
    const at = clicks[29]!.at;
    const touched = performance.touch(at, beats(2), 'altered');
    const struck = ({ at: tick, part, pitch }: NoteEvent) => `${tick} ${part} ${pitch}`;
    expect(touched.notes(ticks(0), at).map(struck)).toEqual(performance.notes(ticks(0), at).map(struck));
    expect(touched.locate(at + 9).changes.spans.some(({ chord }) => chord?.text === 'A7alt')).toBe(true);
    expect(touched.end).toBe(performance.end);
  });

  it('another plan changes the end only as long as there is time', () => {
    const longer = performance.revise(planOf(BLUES), ticks(2 * BAR));
    expect(last(longer).at).toBeGreaterThan(12 * BAR);
    expect(last(longer).bass[0]!.pitch % 12).toBe(pitchClass('F'));
    expect(performance.revise(planOf(BLUES), clicks[28]!.at)).toBe(performance);
  });
});

describe('the end of a section', () => {
  const FORM = '[A] Bb6 | Cm7 | F7 | Bb6 | [B] D7 | G7 | C7 | F7 | [A] Bb6 | Cm7 | F7 | Bb6';
  const bars = (performance: Performance) => Math.round((performance.ending!.slows / BAR) * 100) / 100;

  it('comes sooner than that of the round, and slows down before the mark', () => {
    const playing = play(FORM);
    expect(bars(playing.finish(ticks(BAR), 'round'))).toBe(10);
    expect(bars(playing.finish(ticks(BAR), 'section'))).toBe(2);
    expect(bars(playing.finish(ticks(4 * BAR), 'section'))).toBe(6);
  });

  it('leaves time to slow down: with too little of it the next section is played as well', () => {
    expect(bars(play(FORM).finish(ticks(3 * BAR), 'section'))).toBe(6);
    expect(bars(play(FORM).finish(ticks(11 * BAR), 'section'))).toBe(14);
  });

  it('is struck where the section ends, on the tonic, and nothing sounds after it', () => {
    const performance = play(FORM).finish(ticks(5 * BAR), 'section');
    const { at: struck, comp, bass } = last(performance);
    expect(struck).toBeGreaterThan(8 * BAR);
    expect(struck).toBeLessThan(9.2 * BAR);
    expect(comp).toHaveLength(4);
    expect(bass[0]!.pitch % 12).toBe(pitchClass('Bb'));
    expect(performance.ending).toMatchObject({ from: { bar: 6 }, to: { bar: 7 }, chord: 'Bb6' });
    const notes = all(performance);
    // What sounds before it is let go, and the drums lead up to it.
    const earlier = notes.filter((note) => note.at < struck);
    for (const note of earlier.filter(({ part }) => part === 'comp' || part === 'bass')) {
      expect(note.at + note.length).toBeLessThanOrEqual(struck + 1);
    }
    const fills = earlier.filter((note) => note.at > 7 * BAR && /^(fill|set-up)/.test(note.why));
    expect(fills.length).toBeGreaterThan(0);
    expect(notes.filter((note) => note.at >= performance.end!)).toEqual([]);
    for (const note of notes) expect(note.at + note.length).toBeLessThanOrEqual(performance.end!);
    const before = (list: readonly NoteEvent[]) =>
      list.filter((note) => note.at < 5 * BAR).map(({ at, pitch }) => [at, pitch]);
    expect(before(notes)).toEqual(before(play(FORM).notes(ticks(0), ticks(5 * BAR))));
  });

  it('rests on the tonic of the whole form, whatever key the section is in by itself', () => {
    const form = '[A] Dm7 | G7 | Em7 A7 | Dm7 G7 | [B] Fmaj7 | Fm7 | Cmaj7 | A7';
    expect(play(form).finish(ticks(5 * BAR), 'section').ending!.chord).toBe('Cmaj7');
    expect(
      play('[A] Dm7 | G7 | Cmaj7 A7 | Dm7 G7 | [B] Em7 | A7 | Cmaj7 | G7').finish(ticks(0), 'section').ending!
        .chord,
    ).toBe('Cmaj7');
  });

  it('is that of the round where nothing is marked', () => {
    expect(play(BLUES).finish(ticks(BAR), 'section').end).toBe(play(BLUES).finish(ticks(BAR)).end);
  });

  it('stays where it is when the band’s settings change on the way', () => {
    const playing = play(FORM).finish(ticks(BAR / 2), 'section');
    const plan = planOf(FORM, { settings: { ...SETTINGS, density: 0.9 } });
    expect(bars(playing.revise(plan, ticks(BAR)))).toBe(2);
  });
});
