import { describe, expect, it } from 'vitest';
import {
  bpm,
  comp,
  drum,
  FEELS,
  PPQ,
  swingRatioAt,
  walk,
  type BandSettings,
  type Metre,
  type NoteEvent,
} from '../../../src/engine/index.ts';
import { readFeels } from '../../../src/engine/band/feels.ts';
import { feltTempo } from '../../../src/engine/band/felt.ts';
import { gridOf } from '../../../src/engine/band/pulses.ts';
import { byBar, changesOf, FORMS, planOf } from './plans.ts';

const SEEDS = Array.from({ length: 12 }, (_, seed) => seed);
const BLUES = changesOf(FORMS['twelve-bar blues']!);
const perBar = (notes: readonly NoteEvent[]) => byBar(notes, BLUES).map((bar) => bar.length);
const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
const of = (player: typeof walk, settings: Partial<BandSettings>) =>
  mean(SEEDS.flatMap((seed) => perBar(player(planOf(BLUES, { ...settings, seed })))));

describe('half and double time', () => {
  it('is felt at half and twice the tempo, within what the band can play', () => {
    expect(feltTempo({ tempo: bpm(140) })).toBe(140);
    expect(feltTempo({ tempo: bpm(140), time: 'half' })).toBe(70);
    expect(feltTempo({ tempo: bpm(140), time: 'double' })).toBe(280);
    expect(feltTempo({ tempo: bpm(40), time: 'half' })).toBe(30);
    expect(feltTempo({ tempo: bpm(300), time: 'double' })).toBe(400);
  });

  it.each([
    [{ count: 4, unit: 4 }, 'half', 2, [2]],
    [{ count: 4, unit: 4 }, 'double', 8, [4, 4]],
    [{ count: 3, unit: 4 }, 'double', 6, [3, 3]],
    [{ count: 5, unit: 4 }, 'double', 10, [3, 3, 4]],
    [{ count: 3, unit: 4 }, 'half', 3, [3]],
    [{ count: 6, unit: 4 }, 'half', 3, [3]],
    [{ count: 12, unit: 8 }, 'double', 4, [4]],
  ] as const)('feels a bar of %j in %s time in %i', (metre, time, count, groups) => {
    const { count: beats, unit } = metre as Metre;
    const changes = changesOf(`${beats}/${unit}: C7`);
    const [bar] = gridOf(changes, time);
    expect(bar!.pulses).toHaveLength(count);
    expect(bar!.groups).toEqual(groups);
    const sum = bar!.pulses.reduce((length, pulse) => length + pulse.length, 0);
    expect(sum).toBe(changes.length);
  });

  it('walks twice as many notes in double time, half as many in half time', () => {
    const [half, plain, double] = [{ time: 'half' }, {}, { time: 'double' }].map((set) =>
      of(walk, { tempo: bpm(120), ...set } as Partial<BandSettings>),
    ) as [number, number, number];
    expect(double / plain).toBeGreaterThan(1.8);
    expect(double / plain).toBeLessThan(2.2);
    expect(plain / half).toBeGreaterThan(1.5);
    expect(plain / half).toBeLessThan(2.2);
  });

  it('closes the hi-hat on 3 in half time, on every off-beat in double time', () => {
    const hats = (time: 'half' | 'double') =>
      byBar(drum(planOf(BLUES, { time, tempo: bpm(120) })), BLUES)[1]!
        .filter(({ pitch }) => pitch === 44)
        .map(({ at }) => Math.round((2 * (at - BLUES.bars[1]!.start)) / PPQ) / 2);
    expect(hats('half')).toEqual([2]);
    expect(hats('double')).toEqual([0.5, 1.5, 2.5, 3.5]);
  });

  it('swings by the tempo it feels', () => {
    const notes = drum(planOf(BLUES, { time: 'double', tempo: bpm(70), intensity: 0 }));
    const ride = notes.filter(({ pitch }) => pitch === 51);
    const short = Math.min(...ride.slice(1).map(({ at }, i) => at - ride[i]!.at));
    const ratio = (PPQ / 2 - short) / short;
    expect(ratio).toBeCloseTo(swingRatioAt(140), 0);
  });

  it('keeps the bass on its roots at the changes', () => {
    for (const time of ['half', 'double'] as const) {
      let [grounded, all] = [0, 0];
      for (const seed of SEEDS) {
        const notes = walk(planOf(BLUES, { time, seed }));
        for (const { start } of BLUES.spans) {
          const first = notes.find(({ at }) => at >= start && at < start + PPQ / 8);
          all++;
          if (first?.degree === '1') grounded++;
        }
      }
      expect(grounded / all, time).toBeGreaterThanOrEqual(0.95);
    }
  });

  it('strikes a live change on its very beat, also on what it feels as an off-beat', () => {
    const changes = changesOf('Dm7 G7 G7 Cmaj7');
    const spans = changes.spans.map((span, i) =>
      i === 1 ? { ...span, treatment: { kind: 'altered', origin: 'live', reason: '' } as never } : span,
    );
    const notes = comp(planOf({ ...changes, spans }, { time: 'half' }));
    expect(notes.some(({ at }) => at === spans[1]!.start)).toBe(true);
    const bass = walk(planOf({ ...changes, spans }, { time: 'half' }));
    expect(bass.some(({ at }) => at === spans[1]!.start)).toBe(true);
  });
});

describe('in two', () => {
  const FORM = changesOf(FORMS['thirty-two bars']!);
  const bars = (two: BandSettings['two'], round: number, feel = 'swing') =>
    byBar(walk(planOf(FORM, { feel, ...(two && { two }) }, { round })), FORM).map(
      (bar) => bar.filter(({ why }) => !/^(skip|drop)/.test(why)).length,
    );

  it('the first round is, then the band goes into four', () => {
    expect(mean(bars('first-round', 0))).toBeLessThan(3);
    expect(mean(bars('first-round', 1))).toBeGreaterThan(3.9);
    expect(mean(bars('every-other-round', 2))).toBeLessThan(3);
    expect(mean(bars('every-other-round', 3))).toBeGreaterThan(3.9);
  });

  it('the first section is wherever it comes, and the bridge in four', () => {
    const heard = bars('first-section', 1);
    const [a, b, last] = [heard.slice(0, 16), heard.slice(16, 24), heard.slice(24)];
    expect(mean(a)).toBeLessThan(3.2);
    expect(mean(b)).toBeGreaterThan(3.9);
    expect(mean(last)).toBeLessThan(3.2);
  });

  it('leaves a feel alone that is not played in two', () => {
    expect(bars('first-round', 0, 'bossa')).toEqual(bars(undefined, 0, 'bossa'));
  });

  it('needs a feel that is there', () => {
    const swing = FEELS.get('swing')!;
    expect(swing.inTwo).toBe('two-feel');
    const data = { id: 'x', name: 'x', source: 'x', swing: 'tempo', kit: 'sticks', inTwo: 'nothing' };
    const cells = { 4: [{ name: 'one', hits: '1' }] };
    const voice = { name: 'ride', keys: [51], level: 60, role: 'time', cells };
    const parts = {
      comp: { anticipate: 1, level: 60, cells },
      bass: { level: 60, cells },
      drums: { voices: [voice] },
    };
    const read = readFeels([{ ...data, ...parts }]);
    expect(read.ok ? '' : read.error).toContain('"nothing"');
  });
});
