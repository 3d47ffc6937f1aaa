import { describe, expect, it } from 'vitest';
import {
  dueAgain,
  missRate,
  nextKind,
  told,
  type EarRecord,
  type Practised,
  type TreatmentKind,
} from '../../src/engine/index.ts';

const DAY = 86_400_000;
const day = (at: number) => Math.floor(at / DAY) * DAY;
const line = (what: string, on: number, set: Partial<Practised> = {}): Practised => ({
  at: on * DAY + 1000,
  seconds: 300,
  what,
  chart: 'c',
  slowest: 80,
  fastest: 100,
  keys: ['C'],
  ...set,
});

describe('what is due again', () => {
  it('comes back after a day, then three, then a week: later each time', () => {
    const due = (days: number[]) =>
      dueAgain(
        days.map((on) => line('Vamp', on)),
        day,
      )[0]!.due / DAY;
    expect([due([0]), due([0, 1]), due([0, 1, 4]), due([0, 1, 4, 11])]).toEqual([1, 4, 11, 25]);
  });

  it('counts a day once, however often it was practised then', () => {
    expect(dueAgain([line('Vamp', 0), line('Vamp', 0), line('Vamp', 0)], day)[0]).toMatchObject({
      days: 1,
      due: DAY,
    });
  });

  it('is told apart by chart and by what was practised, due longest first', () => {
    const log = [line('Vamp', 3), line('Thirds', 1), line('Vamp', 2, { chart: 'd', fastest: 140 })];
    expect(dueAgain(log, day).map(({ what, chart, fastest }) => [what, chart, fastest])).toEqual([
      ['Thirds', 'c', 100],
      ['Vamp', 'd', 140],
      ['Vamp', 'c', 100],
    ]);
  });
});

describe('the ear’s record', () => {
  const KINDS: readonly TreatmentKind[] = ['plain', 'altered', 'flat-nine', 'sharp-eleven'];

  it('counts what was told, and what it was taken for', () => {
    const record = told(told(told({}, 'altered', 'altered'), 'altered', 'flat-nine'), 'altered', 'flat-nine');
    expect(record).toEqual({ altered: { asked: 3, right: 1, taken: { 'flat-nine': 2 } } });
    expect(missRate(record, 'altered')).toBeCloseTo(3 / 5);
    expect(missRate(record, 'plain')).toBe(0.5);
  });

  it('asks more often for what is missed, and for what it is taken for', () => {
    let record: EarRecord = {};
    for (let i = 0; i < 20; i++) {
      for (const kind of KINDS) record = told(record, kind, kind === 'altered' ? 'flat-nine' : kind);
    }
    const counts = new Map<TreatmentKind, number>();
    for (let number = 0; number < 2000; number++) {
      const kind = nextKind(record, KINDS, 7, number);
      counts.set(kind, (counts.get(kind) ?? 0) + 1);
    }
    const count = (kind: TreatmentKind) => counts.get(kind) ?? 0;
    expect(count('altered')).toBeGreaterThan(3 * count('sharp-eleven'));
    expect(count('flat-nine')).toBeGreaterThan(3 * count('sharp-eleven'));
    expect(count('sharp-eleven')).toBeGreaterThan(0);
  });

  it('asks the same for the same seed, and only for what is asked about', () => {
    const asked = (seed: number) =>
      Array.from({ length: 50 }, (_, n) => nextKind({}, KINDS.slice(0, 2), seed, n));
    expect(asked(1)).toEqual(asked(1));
    expect(asked(1)).not.toEqual(asked(2));
    expect(new Set(asked(3))).toEqual(new Set(KINDS.slice(0, 2)));
    expect(() => nextKind({}, [], 1, 1)).toThrow(RangeError);
  });
});
