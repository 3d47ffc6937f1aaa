import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  beats,
  bpm,
  DROPOUTS,
  KEY_ORDERS,
  NO_PRACTICE,
  startPerformance,
  ticks,
  type Performance,
  type PlayPlan,
} from '../../src/engine/index.ts';
import { planOf } from '../helpers/plan.ts';

const CHART = '| Dm7 | G7 | Cmaj7 | A7alt |';
const BAR = beats(4);

const anyPlan: fc.Arbitrary<PlayPlan> = fc
  .record({
    loop: fc.option(
      fc.record({ from: fc.integer({ min: 0, max: 12 }), length: fc.integer({ min: 1, max: 4 }) }),
    ),
    runUp: fc.integer({ min: 0, max: 8 }),
    landing: fc.integer({ min: 0, max: 8 }),
    rest: fc.integer({ min: 0, max: 1 }),
    countIn: fc.integer({ min: 0, max: 1 }),
    ladder: fc.option(
      fc.record({
        from: fc.integer({ min: 40, max: 300 }).map(bpm),
        to: fc.integer({ min: 40, max: 300 }).map(bpm),
        step: fc.integer({ min: 1, max: 30 }),
        rounds: fc.integer({ min: 1, max: 3 }),
      }),
    ),
    keys: fc.option(
      fc.record({ order: fc.constantFrom(...KEY_ORDERS), rounds: fc.integer({ min: 1, max: 3 }) }),
    ),
    dropout: fc.option(
      fc.record({
        who: fc.constantFrom(...DROPOUTS),
        bars: fc.integer({ min: 1, max: 3 }),
        every: fc.integer({ min: 4, max: 8 }),
      }),
    ),
  })
  .map(({ loop, runUp, landing, ...rest }) =>
    planOf(CHART, {
      loop: loop && { from: beats(loop.from), to: beats(loop.from + loop.length) },
      practice: { ...NO_PRACTICE, runUp: beats(runUp), landing: beats(landing), ...rest },
    }),
  );

/** What can be done while the band plays, at some beat. */
const anyEvent = fc.record({
  beat: fc.integer({ min: 1, max: 60 }),
  does: fc.oneof(
    fc.record({ type: fc.constant('again' as const) }),
    fc.record({ type: fc.constant('revise' as const), plan: anyPlan }),
    fc.record({ type: fc.constant('touch' as const), length: fc.integer({ min: 1, max: 8 }) }),
  ),
});

function perform(plan: PlayPlan, events: readonly { beat: number; does: Parameters<typeof act>[2] }[]) {
  const inOrder = events.toSorted((a, b) => a.beat - b.beat);
  return inOrder.reduce(
    (performance, { beat, does }) => act(performance, performance.nextBeat(beats(beat)), does),
    startPerformance(plan, { countIn: 0, from: ticks(0) }),
  );
}

function act(
  performance: Performance,
  at: ReturnType<Performance['nextBeat']>,
  does: { type: 'again' } | { type: 'revise'; plan: PlayPlan } | { type: 'touch'; length: number },
): Performance {
  if (does.type === 'again') return performance.again(at);
  if (does.type === 'revise') return performance.revise(does.plan, at);
  return performance.touch(at, beats(does.length), 'altered');
}

describe('whatever is practised, and however it is changed as it goes', () => {
  it('the music has no hole and no overlap: chord and bass end where the next begins, in order, in range', () => {
    fc.assert(
      fc.property(anyPlan, fc.array(anyEvent, { maxLength: 4 }), (plan, events) => {
        const notes = perform(plan, events).notes(ticks(0), ticks(12 * BAR));
        expect(notes.map(({ at }) => at)).toEqual(notes.map(({ at }) => at).toSorted((a, b) => a - b));
        const bass = notes.filter(({ part }) => part === 'bass');
        bass
          .slice(1)
          .forEach((note, i) => expect(bass[i]!.at + bass[i]!.length).toBeLessThanOrEqual(note.at));
        expect(notes.filter(({ length }) => length <= 0)).toEqual([]);
      }),
      { numRuns: 20 },
    );
  });

  it('every place lies in its round, and the same is heard whole and in pieces', () => {
    fc.assert(
      fc.property(anyPlan, fc.array(anyEvent, { maxLength: 3 }), (plan, events) => {
        const performance = perform(plan, events);
        const key = (from: number, to: number) =>
          performance.notes(ticks(from), ticks(to)).map((note) => `${note.part} ${note.at} ${note.pitch}`);
        const whole = key(0, 12 * BAR);
        const pieces = [0, 1, 2, 3, 4, 5].flatMap((n) => key(2 * n * BAR, 2 * (n + 1) * BAR));
        expect(pieces).toEqual(whole);
        for (let beat = 0; beat < 60; beat++) {
          const place = performance.locate(beats(beat));
          expect(place.at).toBeGreaterThanOrEqual(0);
          expect(place.at).toBeLessThan(place.changes.length);
          expect(place.roundStart + place.at).toBe(beats(beat));
        }
      }),
      { numRuns: 20 },
    );
  });

  it('the tempi come in order, each once, within what the band can play', () => {
    fc.assert(
      fc.property(anyPlan, fc.array(anyEvent, { maxLength: 4 }), (plan, events) => {
        const tempi = perform(plan, events).tempi(ticks(0), ticks(40 * BAR));
        tempi.slice(1).forEach(({ at }, i) => expect(at).toBeGreaterThan(tempi[i]!.at));
        for (const { tempo } of tempi) {
          expect(tempo).toBeGreaterThanOrEqual(30);
          expect(tempo).toBeLessThanOrEqual(400);
        }
      }),
      { numRuns: 60 },
    );
  });
});
