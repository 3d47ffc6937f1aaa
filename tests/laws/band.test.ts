import fc from 'fast-check';
import { describe, expect, it, vi } from 'vitest';
import {
  barLength,
  bpm,
  comp,
  drum,
  FEELS,
  PPQ,
  ticks,
  touch,
  walk,
  type BandSettings,
  type Changes,
  type NoteEvent,
  type PlacedHit,
  type RoundPlan,
} from '../../src/engine/index.ts';
import { carryOf, changesOf, planOf, strokesIn } from '../engine/band/plans.ts';

const PLAYERS = { comp, walk, drum };

const symbol = fc.constantFrom(
  ...['C7alt', 'Dm7', 'G7', 'G7alt', 'Cmaj7', 'F6', 'Bm7b5', 'E7b9', 'Am7', 'A7#5', 'C/E', 'Bbdim7'],
  ...['F7sus4', 'Ebmaj7', 'Ab13', 'NC', '??', 'F#m7', 'B7#9', 'Dm7/G', 'C5', 'Caug', 'CmMaj7'],
);
const metre = fc.constantFrom(
  ...[
    '4/4',
    '4/4',
    '4/4',
    '3/4',
    '5/4',
    '6/8',
    '2/4',
    '7/4',
    '12/8',
    '7/8',
    '5/8',
    '2/2',
    '11/8',
    '1/4',
    '3/16',
  ],
);
const bar = fc.record({
  metre,
  mark: fc.constantFrom('', '', '', '[A]', '[B]'),
  chords: fc.array(symbol, { minLength: 1, maxLength: 4 }),
});
const music = fc
  .array(bar, { minLength: 1, maxLength: 10 })
  .map((bars) => bars.map((each) => `${each.metre}: ${each.mark} ${each.chords.join(' ')}`).join(' | '));

const settings: fc.Arbitrary<BandSettings> = fc.record(
  {
    tempo: fc.integer({ min: 30, max: 400 }).map(bpm),
    feel: fc.constantFrom(...FEELS.keys()),
    swingRatio: fc.option(fc.double({ min: 1, max: 3.5, noNaN: true })),
    voicing: fc.constantFrom('rootless', 'drop-2', 'drop-3', 'shell', 'fourths'),
    density: fc.double({ min: 0, max: 1, noNaN: true }),
    intensity: fc.double({ min: 0, max: 1, noNaN: true }),
    seed: fc.nat(),
    comping: fc.constantFrom('charleston', 'four', 'pads'),
    pedal: fc.record({
      on: fc.constantFrom('root', 'fifth'),
      where: fc.constantFrom('throughout', 'every-other-round', 'first-section', 'last-section'),
    }),
    approach: fc.constant('tritone' as const),
  },
  {
    requiredKeys: ['tempo', 'feel', 'swingRatio', 'voicing', 'density', 'intensity', 'seed'],
    noNullPrototype: true,
  },
);

const hit: fc.Arbitrary<PlacedHit> = fc.record({
  id: fc.constant('h'),
  bar: fc.nat({ max: 9 }),
  at: fc.nat({ max: 30 }).map((sixths) => ticks((sixths * PPQ) / 6)),
  accent: fc.constantFrom('strong', 'light'),
  length: fc.constantFrom('short', 'long'),
  by: fc.constantFrom('band', 'comp'),
  stop: fc.boolean(),
});
const hits = fc.oneof(fc.constant([]), fc.array(hit, { maxLength: 8 }));

const plan: fc.Arbitrary<RoundPlan> = fc
  .record({ music, settings, hits, round: fc.nat({ max: 20 }), last: fc.boolean() })
  .map(({ music: text, settings: set, hits: written, round, last }) => {
    const made = planOf(text, set, { round, hits: written });
    return last ? { ...made, next: null } : made;
  });

/** A plan, and a tick within it from which to play on. */
const cut = plan.chain((made) =>
  fc.record({ plan: fc.constant(made), from: fc.nat({ max: made.changes.length - 1 }).map(ticks) }),
);

const rhythm = (notes: readonly NoteEvent[]) => notes.map(({ at, pitch }) => `${at} ${pitch}`);
const onsets = (notes: readonly NoteEvent[]) => strokesIn(notes).map(([note]) => note!.at);
const many = { numRuns: 100 };

vi.setConfig({ testTimeout: 60_000 });

describe.each(Object.entries(PLAYERS))('%s, whatever the chart, the metre and the settings', (_, player) => {
  it('plays the same plan alike, to the bit', () => {
    fc.assert(
      fc.property(plan, (made) => {
        expect(player(structuredClone(made))).toEqual(player(made));
      }),
      many,
    );
  });

  it('plays whole ticks in order, nothing before it is asked to, nothing without a length', () => {
    fc.assert(
      fc.property(cut, ({ plan: made, from }) => {
        const notes = player({ ...made, from });
        notes.forEach((note, index) => {
          expect(Number.isInteger(note.at)).toBe(true);
          expect(Number.isInteger(note.length)).toBe(true);
          expect(note.length).toBeGreaterThan(PPQ / 50);
          expect(note.at).toBeGreaterThanOrEqual(from);
          expect(note.at).toBeLessThan(made.changes.length);
          expect(note.at).toBeGreaterThanOrEqual(notes[index - 1]?.at ?? 0);
          expect(note.why).not.toBe('');
        });
      }),
      many,
    );
  });

  it('plays only inside the bars of a chart that begins and ends within a bar', () => {
    fc.assert(
      fc.property(settings, fc.integer({ min: 1, max: 6 }), (set, eighths) => {
        const whole = changesOf('Dm7 | G7 | Cmaj7');
        const skipped = (barLength(whole.bars[0]!.metre) * eighths) / 8;
        const notes = player(planOf(without(whole, skipped), set));
        for (const note of notes) expect(note.at).toBeLessThan(whole.length - skipped);
      }),
      many,
    );
  });
});

describe('played on from any tick with what sounds there', () => {
  it('the drums are the same from there on', () => {
    fc.assert(
      fc.property(cut, ({ plan: made, from }) => {
        const whole = drum(made);
        expect(drum({ ...made, from, carry: carryOf(whole, from) })).toEqual(
          whole.filter((note) => note.at >= from),
        );
      }),
      many,
    );
  });

  it('the comping has the same rhythm from there on', () => {
    fc.assert(
      fc.property(cut, ({ plan: made, from }) => {
        const whole = comp(made);
        const resumed = comp({ ...made, from, carry: carryOf(whole, from) });
        expect(onsets(resumed)).toEqual(onsets(whole).filter((at) => at >= from));
      }),
      many,
    );
  });

  it('the bass strikes at the same places from there on', () => {
    fc.assert(
      fc.property(cut, ({ plan: made, from }) => {
        const whole = walk(made);
        const resumed = walk({ ...made, from, carry: carryOf(whole, from) });
        expect(onsets(resumed)).toEqual(onsets(whole).filter((at) => at >= from));
      }),
      many,
    );
  });
});

describe('a change in one bar', () => {
  const FORM = 'Dm7 | G7 | Cmaj7 | Cmaj7 | Fm7 | Bb7 | Ebmaj7 | A7';
  const replaced = (index: number, chord: string) =>
    FORM.split(' | ')
      .map((each, at) => (at === index ? chord : each))
      .join(' | ');
  const elsewhere = (changes: Changes, index: number) => (note: NoteEvent) =>
    changes.bars.some(
      ({ start, length }, at) => Math.abs(at - index) > 1 && note.at >= start && note.at < start + length,
    );

  it('leaves the rhythm of all bars but its neighbours as it was', () => {
    fc.assert(
      fc.property(settings, fc.integer({ min: 2, max: 6 }), symbol, (set, index, chord) => {
        const [before, after] = [changesOf(FORM), changesOf(replaced(index, chord))];
        fc.pre(before.spans.length === after.spans.length);
        for (const player of [comp, drum]) {
          const [old, now] = [before, after].map((changes) =>
            player(planOf(changes, set)).filter(elsewhere(changes, index)),
          );
          if (player === drum) expect(rhythm(now!)).toEqual(rhythm(old!));
          else expect(onsets(now!)).toEqual(onsets(old!));
        }
      }),
      many,
    );
  });

  it('that is a live touch changes no drum stroke', () => {
    fc.assert(
      fc.property(settings, fc.integer({ min: 0, max: 7 }), (set, beat) => {
        const written = changesOf(FORM);
        const at = ticks(beat * PPQ * 4);
        const touched = touch(written, { at, length: ticks(PPQ), kind: 'altered' });
        expect(rhythm(drum(planOf(touched, set)))).toEqual(rhythm(drum(planOf(written, set))));
      }),
      many,
    );
  });
});

/** The changes from tick `skipped` of the first bar on. */
function without(changes: Changes, skipped: number): Changes {
  const length = changes.length - skipped;
  const later = (at: number) => ticks(Math.max(0, at - skipped));
  return {
    length: ticks(length),
    bars: changes.bars.map((each, index) => ({
      ...each,
      start: later(each.start),
      length: ticks(each.length - (index === 0 ? skipped : 0)),
      skipped: ticks(index === 0 ? skipped : 0),
    })),
    spans: changes.spans.map((span, index) => ({
      ...span,
      start: later(span.start),
      length: ticks(span.length - (index === 0 ? skipped : 0)),
    })),
  };
}
