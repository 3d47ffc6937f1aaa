import { describe, expect, it, vi } from 'vitest';
import { beats, bpm, comp, drum, PPQ, type BandSettings, type NoteEvent } from '../../../src/engine/index.ts';
import { byBar, changesOf, FORMS, planOf } from './plans.ts';

// Many seeds on a busy machine.
vi.setConfig({ testTimeout: 60_000 });

const SEEDS = Array.from({ length: 40 }, (_, seed) => seed);
const RIDES = [51, 59];
const [KICK, SNARE, PEDAL, CRASH] = [36, 38, 44, 49];
const struck = (notes: readonly NoteEvent[], ...keys: number[]) =>
  notes.filter((note) => keys.includes(note.pitch));
/** The beat a stroke falls on, counted from 0, or null for one off the beat. */
const beatOf = (note: NoteEvent, start: number): number | null => {
  const beat = Math.floor((note.at - start) / PPQ);
  return note.at - start - beat * PPQ < PPQ / 12 ? beat : null;
};

describe('a swinging drummer', () => {
  it('closes the hi-hat on 2 and 4 of every bar', () => {
    for (const seed of SEEDS) {
      const plan = planOf(FORMS['twelve-bar blues']!, { seed });
      byBar(drum(plan), plan.changes).forEach((bar, index) => {
        const start = plan.changes.bars[index]!.start;
        expect(struck(bar, PEDAL).map((note) => beatOf(note, start))).toEqual([1, 3]);
      });
    }
  });

  it('keeps 2 and 4 where they are when a loop begins within the bar', () => {
    const whole = changesOf('Dm7 | G7');
    const [first, second] = [whole.bars[0]!, whole.bars[1]!];
    const cut = {
      length: beats(5),
      bars: [
        { ...first, length: beats(1), skipped: beats(3) },
        { ...second, start: beats(1) },
      ],
      spans: [
        { ...whole.spans[0]!, length: beats(1) },
        { ...whole.spans[1]!, start: beats(1) },
      ],
    };
    const pedal = struck(drum(planOf(cut)), PEDAL).map((note) => beatOf(note, 0));
    expect(pedal).toEqual([0, 2, 4]);
  });

  it('feathers the bass drum in four, softer than anything else', () => {
    const plan = planOf('Dm7 | G7 | Cmaj7 | A7');
    const notes = drum(plan);
    const feathered = notes.filter((note) => note.why.startsWith('feathered'));
    const others = notes.filter((note) => !note.why.startsWith('feathered'));
    expect(feathered.length).toBeGreaterThan(12);
    const loudest = Math.max(...feathered.map((note) => note.velocity));
    expect(loudest).toBeLessThan(30);
    expect(Math.min(...struck(others, ...RIDES, PEDAL).map((note) => note.velocity))).toBeGreaterThan(
      loudest,
    );
  });

  it('lets the bass drum be at breakneck speed', () => {
    const notes = drum(planOf('Dm7 | G7 | Cmaj7 | A7', { tempo: bpm(320), intensity: 0 }));
    expect(notes.filter((note) => note.why.startsWith('feathered'))).toEqual([]);
  });

  it('has the ride on every 1 that no fill stands before', () => {
    for (const seed of SEEDS) {
      const plan = planOf('Dm7 | G7 | Cmaj7 | A7', { seed });
      byBar(drum(plan), plan.changes).forEach((bar, index) => {
        const start = plan.changes.bars[index]!.start;
        expect(struck(bar, ...RIDES).some((note) => beatOf(note, start) === 0)).toBe(true);
      });
    }
  });

  it('sets up the sections, and lands on them', () => {
    let setUps = 0;
    let landings = 0;
    for (const seed of SEEDS) {
      const plan = planOf(FORMS['thirty-two bars']!, { seed, intensity: 0.7 });
      const bars = byBar(drum(plan), plan.changes);
      for (const mark of [8, 16, 24]) {
        if (bars[mark - 1]!.some((note) => note.why.startsWith('set-up'))) setUps++;
        if (struck(bars[mark]!, CRASH).length > 0) landings++;
      }
      for (const inside of [2, 10, 18]) {
        expect(bars[inside]!.some((note) => /^(set-up|fill)/.test(note.why))).toBe(false);
      }
    }
    expect(setUps).toBeGreaterThan(0.8 * 3 * SEEDS.length);
    expect(landings).toBeGreaterThan(0.4 * 3 * SEEDS.length);
  });

  it('does not fill at every turn of a short vamp', () => {
    for (let round = 0; round < 6; round++) {
      const notes = drum(planOf('[A] C7alt | C7alt', {}, { round }));
      const filled = notes.some((note) => note.why.startsWith('fill into the next round'));
      expect(filled).toBe(round === 3 && filled);
    }
  });

  it('answers the comping: the snare strikes in its holes more often than with it', () => {
    let [answers, together] = [0, 0];
    for (const seed of SEEDS) {
      const notes = drum(planOf(FORMS['two-five-ones']!, { seed }));
      answers += notes.filter((note) => note.why.startsWith('snare answers')).length;
      together += notes.filter((note) => note.why.startsWith('snare with')).length;
    }
    expect(answers).toBeGreaterThan(1.5 * together);
  });

  it('says truly when it goes with the comping', () => {
    let found = 0;
    for (const seed of SEEDS) {
      const plan = planOf(FORMS['one chord']!, { seed });
      const strokes = comp(plan).map((note) => note.at);
      for (const note of drum(plan).filter((each) => each.why.includes('with the comping'))) {
        found++;
        const near = Math.min(...strokes.map((at) => Math.abs(at - note.at)));
        // A push takes the place of the beat after it, so a stroke on that beat has its chord before it.
        expect(near).toBeLessThan(PPQ / 2);
      }
    }
    expect(found).toBeGreaterThan(10);
  });

  it('keeps the hi-hat alone where the chart says N.C., and plays on where a symbol is unreadable', () => {
    const plan = planOf('Dm7 | NC | ?? | Cmaj7');
    const bars = byBar(drum(plan), plan.changes);
    expect(new Set(bars[1]!.map((note) => note.pitch))).toEqual(new Set([PEDAL]));
    expect(struck(bars[2]!, ...RIDES).length).toBeGreaterThan(2);
  });

  it('strikes no key twice at once', () => {
    for (const seed of SEEDS) {
      const notes = drum(planOf(FORMS['thirty-two bars']!, { seed, intensity: 1, density: 1 }));
      for (const key of new Set(notes.map((note) => note.pitch))) {
        const onsets = struck(notes, key).map((note) => note.at);
        onsets.forEach((at, index) => {
          if (index > 0) expect(at - onsets[index - 1]!).toBeGreaterThan(PPQ / 30);
        });
      }
    }
  });

  it('plays harder and says more as the band plays harder', () => {
    const sum = (settings: Partial<BandSettings>) => {
      const all = SEEDS.flatMap((seed) => drum(planOf('Dm7 | G7 | Cmaj7 | A7', { ...settings, seed })));
      return { count: all.length, mean: all.reduce((s, note) => s + note.velocity, 0) / all.length };
    };
    const [soft, hard] = [sum({ intensity: 0 }), sum({ intensity: 1 })];
    expect(hard.mean).toBeGreaterThan(1.3 * soft.mean);
    expect(hard.count).toBeGreaterThan(soft.count);
  });
});

describe('other feels', () => {
  it('a ballad is played with brushes and never busy', () => {
    const brushes = [38, 39, 40, 44, 36];
    for (const seed of SEEDS) {
      const plan = planOf('Cmaj7 | Am7 | Dm7 | G7', {
        seed,
        feel: 'ballad',
        tempo: bpm(60),
        intensity: 1,
        density: 1,
      });
      const notes = drum(plan);
      for (const note of notes) expect(brushes).toContain(note.pitch);
      for (const bar of byBar(notes, plan.changes)) expect(bar.length).toBeLessThan(20);
    }
  });

  it('a bossa keeps its clave over two bars', () => {
    const plan = planOf('Cmaj7 | Cmaj7 | Dm7 | G7', { feel: 'bossa', tempo: bpm(130) });
    const bars = byBar(drum(plan), plan.changes);
    const sticks = (index: number) =>
      struck(bars[index]!, 37).map((note) =>
        Math.floor((note.at - plan.changes.bars[index]!.start) / (PPQ / 2)),
      );
    expect(sticks(0).slice(0, 3)).toEqual([0, 3, 6]);
    expect(sticks(1).slice(0, 2)).toEqual([2, 5]);
  });

  it('a shuffle has its backbeat', () => {
    const plan = planOf('F7 | Bb7 | F7', { feel: 'shuffle', tempo: bpm(120) });
    byBar(drum(plan), plan.changes).forEach((bar, index) => {
      const beatsStruck = struck(bar, SNARE).map((note) => beatOf(note, plan.changes.bars[index]!.start));
      expect(beatsStruck).toEqual(expect.arrayContaining([1, 3]));
    });
  });

  it('a bass drum that goes with the bass falls mostly where the bass strikes', () => {
    const plan = planOf('Em7 | Em7 | A7 | A7', { feel: 'straight-sixteenths', tempo: bpm(100) });
    const kicks = struck(drum(plan), KICK).map((note) => note.at);
    expect(kicks.length).toBeGreaterThan(7);
    expect(kicks.every((at) => at >= 0 && at < beats(16))).toBe(true);
  });
});
