import { describe, expect, it, vi } from 'vitest';
import {
  beats,
  bpm,
  comp,
  PPQ,
  ticks,
  touch,
  type Carry,
  type NoteEvent,
  type RoundPlan,
} from '../../../src/engine/index.ts';
import { fits } from '../../../src/engine/band/fits.ts';
import { carryOf, changesOf, FORMS, planOf, roundsOf, SILENCE, strokesIn } from './plans.ts';

// Many seeds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const chordOf = (note: NoteEvent): string => /of (\S+): /.exec(note.why)![1]!;
const isPush = (note: NoteEvent): boolean => note.why.includes('pushed into the change');
const SEEDS = Array.from({ length: 40 }, (_, seed) => seed);

describe('a comping hand', () => {
  it('strikes four notes together and lets them go together, one chord at a time', () => {
    for (const music of Object.values(FORMS)) {
      for (const seed of SEEDS.slice(0, 8)) {
        const strokes = strokesIn(comp(planOf(music, { seed })));
        strokes.forEach((stroke, index) => {
          expect(stroke).toHaveLength(4);
          expect(new Set(stroke.map((note) => note.pitch)).size).toBe(4);
          expect(new Set(stroke.map((note) => note.length)).size).toBe(1);
          const next = strokes[index + 1];
          if (next) expect(stroke[0]!.at + stroke[0]!.length).toBeLessThanOrEqual(next[0]!.at);
        });
      }
    }
  });

  it('plays the chord that sounds, or on an off-beat the one that is about to', () => {
    for (const [name, music] of Object.entries(FORMS)) {
      for (const seed of SEEDS.slice(0, 10)) {
        const plan = planOf(music, { seed });
        const spans = [...plan.changes.spans, { ...plan.next!, start: plan.changes.length }];
        for (const [note] of strokesIn(comp(plan))) {
          const index = spans.findLastIndex((span) => span.start <= note!.at);
          const coming = spans[index + 1];
          if (isPush(note!)) {
            expect(chordOf(note!), name).toBe(coming!.chord!.text);
            expect(coming!.start - note!.at).toBeLessThanOrEqual(PPQ / 2);
            expect(note!.at + note!.length).toBeGreaterThan(coming!.start);
          } else expect(chordOf(note!), name).toBe(spans[index]!.chord!.text);
        }
      }
    }
  });

  it('never strikes again on the beat it has pushed into', () => {
    let pushes = 0;
    for (const seed of SEEDS) {
      const notes = comp(planOf(FORMS['twelve-bar blues']!, { seed }));
      const strokes = strokesIn(notes);
      strokes.forEach(([note], index) => {
        if (!isPush(note!)) return;
        pushes++;
        const beat = Math.ceil(note!.at / PPQ) * PPQ;
        const next = strokes[index + 1]?.[0];
        if (next) expect(next.at).toBeGreaterThan(beat + PPQ / 4);
      });
    }
    expect(pushes).toBeGreaterThan(40);
  });

  it('lets every chord of the chart be heard', () => {
    for (const [name, music] of Object.entries(FORMS)) {
      for (const seed of SEEDS.slice(0, 10)) {
        const plan = planOf(music, { seed, density: 0.2 });
        const strokes = strokesIn(comp(plan));
        for (const span of plan.changes.spans) {
          const end = span.start + span.length;
          const heard = strokes.some(
            ([note]) => chordOf(note!) === span.chord!.text && note!.at >= span.start - PPQ && note!.at < end,
          );
          expect(heard, `${span.chord!.text} in ${name}`).toBe(true);
        }
      }
    }
  });

  it('keeps silent where the chart has no chord, and lets nothing ring into it', () => {
    for (const seed of SEEDS) {
      const plan = planOf('Dm7 | G7 | NC | Cmaj7 | ?? Dm7 | G7', { seed });
      const silences = plan.changes.spans.filter((span) => span.chord === null);
      for (const note of comp(plan)) {
        for (const { start, length } of silences) {
          if (isPush(note)) continue;
          expect(note.at + note.length <= start || note.at >= start + length).toBe(true);
        }
      }
    }
  });

  it('plays more where more is asked, and less at breakneck speed', () => {
    const count = (settings: Parameters<typeof planOf>[1]) =>
      SEEDS.reduce((sum, seed) => {
        return sum + strokesIn(comp(planOf(FORMS['two-five-ones']!, { ...settings, seed }))).length;
      }, 0);
    expect(count({ density: 1 })).toBeGreaterThan(1.4 * count({ density: 0 }));
    expect(count({ tempo: bpm(340) })).toBeLessThan(count({ tempo: bpm(140) }));
  });

  it('strikes harder where the band plays harder', () => {
    const mean = (intensity: number) => {
      const notes = comp(planOf(FORMS['two-five-ones']!, { intensity }));
      return notes.reduce((sum, note) => sum + note.velocity, 0) / notes.length;
    };
    expect(mean(1)).toBeGreaterThan(mean(0.5) + 8);
    expect(mean(0.5)).toBeGreaterThan(mean(0) + 8);
  });

  it('travels on one chord: the same four notes hardly ever come twice running', () => {
    const voicings = strokesIn(comp(planOf(FORMS['one chord']!, { density: 0.8 }))).map((stroke) =>
      stroke.map((note) => note.pitch).join(' '),
    );
    const again = voicings.filter((voicing, index) => voicing === voicings[index - 1]).length;
    expect(voicings.length).toBeGreaterThan(8);
    expect(new Set(voicings).size).toBeGreaterThan(3);
    expect(again).toBeLessThanOrEqual(voicings.length / 4);
  });
});

describe('the first thing heard', () => {
  it('is the chord, on the first beat, wherever the music begins', () => {
    for (const [name, music] of Object.entries(FORMS)) {
      for (const seed of SEEDS.slice(0, 10)) {
        for (const from of [0, beats(4), beats(7)]) {
          const plan = planOf(music, { seed, density: 0.1 }, { from: ticks(from) });
          const span = plan.changes.spans.findLast(({ start }) => start <= from)!;
          const stroke = strokesIn(comp(plan))[0]!;
          expect(stroke[0]!.at - from, name).toBeGreaterThanOrEqual(0);
          expect(stroke[0]!.at - from, name).toBeLessThan(PPQ / 16);
          expect(chordOf(stroke[0]!), name).toBe(span.chord!.text);
        }
      }
    }
  });

  it('is no stroke in a bar without a chord', () => {
    const notes = comp(planOf('NC | G7alt | Cmaj7'));
    expect(notes[0]!.at).toBeGreaterThanOrEqual(beats(3.5));
  });
});

describe('from round to round', () => {
  it('a push at the end sounds the next round, whose beat 1 is then not struck', () => {
    let pushes = 0;
    for (const seed of SEEDS) {
      const changes = changesOf(FORMS['two-five-ones']!);
      const rounds = roundsOf(comp, changes, 3, { seed });
      rounds.slice(0, -1).forEach((notes, index) => {
        const last = strokesIn(notes).at(-1)![0]!;
        const next = strokesIn(rounds[index + 1]!)[0]![0]!;
        if (!isPush(last) || last.at < changes.length - PPQ / 2) return;
        pushes++;
        expect(last.at + last.length).toBeGreaterThan(changes.length);
        expect(next.at).toBeGreaterThan(PPQ / 4);
      });
    }
    expect(pushes).toBeGreaterThan(5);
  });

  it('nothing is pushed past the very end', () => {
    for (const seed of SEEDS) {
      const plan = planOf('Dm7 | G7 | C6 | C6', { seed }, { next: null });
      const notes = comp(plan);
      expect(notes.length).toBeGreaterThan(0);
      for (const note of notes) expect(note.at + note.length).toBeLessThanOrEqual(plan.changes.length);
    }
  });
});

describe('a live touch', () => {
  const written = changesOf('Dm7 | G7 | Cmaj7 | Cmaj7');
  const at = beats(6);

  /** The round played on from the touch, with what sounded before it. */
  const touched = (seed: number): { plan: RoundPlan; notes: readonly NoteEvent[] } => {
    const carry = carryOf(comp(planOf(written, { seed })), at);
    const changes = touch(written, { at, length: beats(2), kind: 'altered' });
    const plan = planOf(changes, { seed }, { from: at, carry });
    return { plan, notes: comp(plan) };
  };

  it('is struck on its very beat, in the new colour', () => {
    for (const seed of SEEDS) {
      const { plan, notes } = touched(seed);
      const span = plan.changes.spans.find((each) => each.start === at)!;
      expect(span.treatment?.origin).toBe('live');
      const stroke = strokesIn(notes)[0]!;
      expect(stroke[0]!.at).toBe(at);
      expect(chordOf(stroke[0]!)).toBe(span.chord!.text);
      for (const note of stroke) expect(span.chord!.degrees).toContain(note.degree);
    }
  });

  it('is followed by the chord the chart goes on to', () => {
    for (const seed of SEEDS) {
      const strokes = strokesIn(touched(seed).notes);
      const after = strokes.find(([note]) => chordOf(note!) !== chordOf(strokes[0]![0]!))!;
      expect(chordOf(after[0]!)).toBe('Cmaj7');
    }
  });

  it('leaves the rhythm of the later bars alone', () => {
    for (const seed of SEEDS) {
      const onsets = (notes: readonly NoteEvent[]) =>
        strokesIn(notes)
          .map(([note]) => note!.at)
          .filter((onset) => onset >= beats(9));
      expect(onsets(touched(seed).notes)).toEqual(onsets(comp(planOf(written, { seed }))));
    }
  });
});

describe('where music resumes under a chord that rings', () => {
  const changes = changesOf('Dm7 | G7alt | Cmaj7');
  const from = beats(4);
  const voicingOf = (symbol: string) => carryOf(comp(planOf(symbol)), beats(4)).voicing!;
  const ringing = (symbol: string): Carry => ({
    ...SILENCE,
    voicing: voicingOf(symbol),
    ringsUntil: ticks(from + PPQ),
  });

  it('the wrong one is struck right on the beat', () => {
    for (const seed of SEEDS) {
      const first = comp(planOf(changes, { seed }, { from, carry: ringing('G7') }))[0]!;
      expect(first.at).toBe(from);
      expect(chordOf(first)).toBe('G7alt');
    }
  });

  it('the right one is let ring', () => {
    const onsets = (carry: Carry, seed: number) =>
      comp(planOf(changes, { seed }, { from, carry })).map((note) => note.at);
    const over = { ...ringing('G7alt'), ringsUntil: null };
    for (const seed of SEEDS) {
      expect(onsets(ringing('G7alt'), seed)).toEqual(onsets(over, seed));
    }
  });

  it('tells a colour by its root and its tensions', () => {
    const chord = (symbol: string) => changesOf(symbol).spans[0]!.chord!;
    expect(fits(voicingOf('G7'), chord('G7'))).toBe(true);
    expect(fits(voicingOf('G7alt'), chord('G7alt'))).toBe(true);
    expect(fits(voicingOf('G7'), chord('G7alt'))).toBe(false);
    expect(fits(voicingOf('G7alt'), chord('G7'))).toBe(false);
    expect(fits(voicingOf('G7alt'), chord('Db7'))).toBe(false);
  });
});
