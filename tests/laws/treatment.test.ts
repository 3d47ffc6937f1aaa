import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isDominant, type Changes, type Span } from '../../src/engine/harmony/index.ts';
import {
  applyTreatment,
  sliceChanges,
  spanAt,
  touch,
  treat,
  TREATMENT_KINDS,
  type PlacedTreatment,
  type Touch,
  type TreatmentRule,
} from '../../src/engine/treatment/index.ts';
import { beats, ticks } from '../../src/engine/units/index.ts';
import { changesOf } from '../helpers/changes.ts';
import { anyChartText, anyText } from '../helpers/typed-charts.ts';

const anyKind = fc.constantFrom(...TREATMENT_KINDS);
/** Eighths of a bar of four, from off-beats to several bars. */
const anyTime = (min: number) => fc.integer({ min, max: 24 }).map((eighths) => beats(eighths / 2));
const anyWhen = fc.oneof(
  fc.constant({ type: 'always' } as const),
  fc.record({ type: fc.constant('every' as const), nth: fc.integer({ min: 1, max: 4 }) }),
  fc.record({ type: fc.constant('chance' as const), chance: fc.constantFrom(0, 0.5, 1) }),
);
const anyPlaced: fc.Arbitrary<readonly PlacedTreatment[]> = fc.array(
  fc.record({
    id: fc.string(),
    kind: anyKind,
    bar: fc.integer({ min: -1, max: 9 }),
    at: anyTime(0),
    length: anyTime(1),
    when: anyWhen,
  }),
  { maxLength: 5 },
);
const anyRules: fc.Arbitrary<readonly TreatmentRule[]> = fc.array(
  fc.record({
    id: fc.string(),
    kind: anyKind,
    scope: fc.constantFrom('falling-fifth', 'secondary', 'falling-semitone', 'every-dominant'),
    extent: fc.oneof(
      fc.constant({ type: 'whole' } as const),
      fc.record({ type: fc.constantFrom('first' as const, 'last' as const), length: anyTime(1) }),
    ),
    bars: fc.oneof(fc.constant(null), fc.array(fc.integer({ min: 1, max: 9 }), { maxLength: 3 })),
    when: anyWhen,
  }),
  { maxLength: 3 },
);
const anyLayers = fc.record({ placed: anyPlaced, rules: anyRules });
const anyContext = fc.record({ round: fc.nat(20), seed: fc.integer() });
const anyTouch: fc.Arbitrary<Touch> = fc.record({ at: anyTime(0), length: anyTime(1), kind: anyKind });
const anyTyped = fc.oneof(anyChartText, anyText);

/** Points that between them see every stretch of both changes, halves of beats and less. */
function points(...several: readonly Changes[]): number[] {
  const starts = several.flatMap(({ spans }) =>
    spans.flatMap(({ start, length }) => [start, start + length - 1]),
  );
  return [...new Set(starts)].sort((a, b) => a - b);
}

function expectTiled({ spans, bars, length }: Changes): void {
  let at = 0;
  for (const span of spans) {
    expect(span.start).toBe(at);
    expect(span.length).toBeGreaterThan(0);
    const bar = bars[span.bar]!;
    expect(span.start).toBeGreaterThanOrEqual(bar.start);
    expect(span.start).toBeLessThan(bar.start + bar.length);
    at += span.length;
  }
  expect(at).toBe(length);
}

const under = (changes: Changes, at: number): Span => spanAt(changes, at)!;

describe('treated changes', () => {
  it('are tiled by their spans as before, over the same bars', () => {
    fc.assert(
      fc.property(anyTyped, anyLayers, anyContext, anyTouch, (text, layers, context, tap) => {
        const changes = changesOf(text);
        expectTiled(changes);
        const treated = touch(treat(changes, layers, context), tap);
        expectTiled(treated);
        expect(treated.bars).toBe(changes.bars);
        expect(treated.length).toBe(changes.length);
      }),
    );
  });

  it('keep at every moment what is written there, and have a colour only over a dominant', () => {
    fc.assert(
      fc.property(anyTyped, anyLayers, anyContext, anyTouch, (text, layers, context, tap) => {
        const changes = changesOf(text);
        const before = structuredClone(changes);
        const treated = touch(treat(changes, layers, context), tap);
        expect(changes).toEqual(before);
        for (const at of points(changes, treated)) {
          const [was, is] = [under(changes, at), under(treated, at)];
          expect(is.written).toBe(was.written);
          expect([is.from, is.to, is.silence]).toEqual([was.from, was.to, was.silence]);
          if (is.treatment === null) expect(is.chord).toBe(was.chord);
          else {
            expect(is.written !== null && isDominant(is.written)).toBe(true);
            expect(is.treatment.reason).toMatch(/^[A-Z].+, .+\.$/);
          }
        }
      }),
    );
  });

  it('are the same for the same seed and round', () => {
    fc.assert(
      fc.property(anyTyped, anyLayers, anyContext, (text, layers, context) => {
        expect(treat(changesOf(text), layers, context)).toEqual(treat(changesOf(text), layers, context));
      }),
    );
  });

  it('are the very same changes without layers', () => {
    fc.assert(
      fc.property(anyTyped, anyContext, (text, context) => {
        const changes = changesOf(text);
        expect(treat(changes, { placed: [], rules: [] }, context)).toBe(changes);
      }),
    );
  });

  it('carry the mark of the hand wherever a hand that always sounds lies over a dominant', () => {
    fc.assert(
      fc.property(anyChartText, anyLayers, anyContext, (text, layers, context) => {
        const changes = changesOf(text);
        const treated = treat(changes, layers, context);
        const always = layers.placed.filter(({ when }) => when.type === 'always');
        for (const at of points(changes, treated)) {
          const span = under(treated, at);
          const covered = always.some(({ bar, at: from, length }) =>
            changes.bars.some(
              ({ start, written }) => written === bar && at >= start + from && at < start + from + length,
            ),
          );
          if (covered && span.written && isDominant(span.written))
            expect(span.treatment?.origin).toBe('hand');
        }
      }),
    );
  });
});

describe('a touch', () => {
  it('changes nothing outside its stretch, and every dominant within', () => {
    fc.assert(
      fc.property(anyTyped, anyLayers, anyContext, anyTouch, (text, layers, context, tap) => {
        const before = treat(changesOf(text), layers, context);
        const after = touch(before, tap);
        const end = tap.at + tap.length;
        const edges = [tap.at - 1, tap.at, end - 1, end].filter((at) => at >= 0 && at < before.length);
        for (const at of [...points(before, after), ...edges]) {
          const [was, is] = [under(before, at), under(after, at)];
          const within = at >= tap.at && at < end && was.written !== null && isDominant(was.written);
          if (!within) expect([is.chord, is.treatment]).toEqual([was.chord, was.treatment]);
          else expect(is.treatment).toMatchObject({ origin: 'live', kind: tap.kind });
          if (within && tap.kind !== 'suspended-first')
            expect(is.chord).toEqual(applyTreatment(was.written, tap.kind));
        }
      }),
    );
  });
});

describe('a stretch of changes', () => {
  it('plays what the whole plays there', () => {
    fc.assert(
      fc.property(
        anyChartText,
        anyLayers,
        anyContext,
        fc.nat(),
        fc.nat(),
        (text, layers, context, one, other) => {
          const changes = treat(changesOf(text), layers, context);
          const [from, to] = [one % changes.length, other % changes.length].sort((a, b) => a - b) as [
            number,
            number,
          ];
          const slice = sliceChanges(changes, ticks(from), ticks(to + 1));
          expectTiled(slice);
          for (const at of points(slice)) {
            expect(under(slice, at).chord).toBe(under(changes, at + from).chord);
          }
          for (const { start, written, skipped } of slice.bars) {
            const bar = changes.bars.find((candidate) => candidate.start === start + from - skipped)!;
            expect(bar.written).toBe(written);
          }
        },
      ),
    );
  });
});
