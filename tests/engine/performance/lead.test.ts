import { describe, expect, it } from 'vitest';
import {
  beats,
  buildDrill,
  bpm,
  GUITAR,
  musicOf,
  NO_PRACTICE,
  PPQ,
  startPerformance,
  suggestThrough,
  ticks,
  type Changes,
  type DrillSettings,
  type Lead,
  type NoteEvent,
  type PlayPlan,
} from '../../../src/engine/index.ts';
import { DRILL } from '../../helpers/drills.ts';
import { planOf, SETTINGS } from '../../helpers/plan.ts';

const CHART = '| Dm7 | G7alt | Cmaj7 | A7 |';

/** A line through whatever changes a round has. */
const leadOf = (set: Partial<DrillSettings> = {}, alone = false): Lead => ({
  alone,
  drill(changes: Changes) {
    const scales = suggestThrough(changes).map((offered) => offered[0] ?? null);
    const settings: DrillSettings = { ...DRILL, kind: 'through', hand: { type: 'free' }, ...set };
    return buildDrill(settings, { over: 'changes', passage: { changes, scales } }, GUITAR);
  },
});
const play = (plan: Partial<PlayPlan>, text = CHART) =>
  startPerformance(planOf(text, plan), { countIn: 0, from: ticks(0) });
const parts = (notes: readonly NoteEvent[], part: string) => notes.filter((note) => note.part === part);
const BARS = (count: number) => beats(4 * count);

describe('a drill over the band', () => {
  it('is played every round, in order among the notes of the band, which stay as they were', () => {
    const plain = play({}).notes(ticks(0), BARS(8));
    const both = play({ lead: leadOf() }).notes(ticks(0), BARS(8));
    expect(both.filter(({ part }) => part !== 'lead')).toEqual(plain);
    expect(both.map(({ at }) => at)).toEqual(both.map(({ at }) => at).toSorted((a, b) => a - b));
    const line = parts(both, 'lead');
    const [first, second] = [line.filter(({ at }) => at < BARS(4)), line.filter(({ at }) => at >= BARS(4))];
    expect(second.map(({ at, pitch }) => [at - BARS(4), pitch])).toEqual(
      first.map(({ at, pitch }) => [at, pitch]),
    );
    expect(first.length).toBeGreaterThan(20);
  });

  it('is alone with the click where that is wanted', () => {
    const notes = play({ lead: leadOf({}, true) }).notes(ticks(0), BARS(4));
    expect(new Set(notes.map(({ part }) => part))).toEqual(new Set(['click', 'lead']));
  });

  it('names the guitar among those who play, only while it is on', () => {
    expect(play({ lead: leadOf() }).lineup.lead).toBe('guitar');
    expect(play({}).lineup).not.toHaveProperty('lead');
  });

  it('has its off-beats where the feel has them, and its beats on the beat', () => {
    const places = (feel: string, tempo: number, set: Partial<DrillSettings> = {}) =>
      parts(
        play({ lead: leadOf(set), settings: { ...SETTINGS, feel, tempo: bpm(tempo) } }).notes(
          ticks(0),
          BARS(1),
        ),
        'lead',
      ).map(({ at }) => (at % PPQ) / PPQ);
    // 100 ms of a beat of 500 ms would be 4:1; the ratio is 3.5 at most.
    expect(places('swing', 120).slice(0, 2)).toEqual([0, Math.round((3.5 / 4.5) * PPQ) / PPQ]);
    expect(places('straight-eighths', 120).slice(0, 2)).toEqual([0, 0.5]);
    expect(places('swing', 120, { rhythm: 'triplet' }).slice(0, 3)).toEqual([0, 1 / 3, 2 / 3]);
    expect(places('swing', 120, { rhythm: 'sixteenth' }).slice(0, 4)).toEqual([0, 0.25, 0.5, 0.75]);
  });

  it('strikes its accents harder', () => {
    const line = parts(play({ lead: leadOf({ accents: 'beats' }) }).notes(ticks(0), BARS(1)), 'lead');
    expect(line[0]!.velocity).toBeGreaterThan(line[1]!.velocity);
  });

  it('goes through the keys of a key round with the changes', () => {
    const practice = { ...NO_PRACTICE, keys: { order: 'rising-semitones', rounds: 1 } } as const;
    const line = parts(play({ lead: leadOf(), practice }).notes(ticks(0), BARS(8)), 'lead');
    const first = line.find(({ at }) => at === 0)!;
    const second = line.find(({ at }) => at === BARS(4))!;
    expect([first.name, first.degree]).toEqual(['D', '1']);
    expect([second.name, second.degree]).toEqual(['Eb', '1']);
  });

  it('rests while the band rests between rounds', () => {
    const practice = { ...NO_PRACTICE, rest: 1 };
    const performance = play({ lead: leadOf(), practice });
    const line = parts(performance.notes(ticks(0), BARS(10)), 'lead');
    expect(line.filter(({ at }) => at >= BARS(4) && at < BARS(5))).toEqual([]);
    expect(line.some(({ at }) => at === BARS(5))).toBe(true);
    expect(musicOf(performance.locate(0).changes).length).toBe(BARS(4));
  });

  it('can be put on and taken off while the band plays', () => {
    const before = play({});
    const on = before.revise(planOf(CHART, { lead: leadOf() }), BARS(1));
    expect(parts(on.notes(ticks(0), BARS(1)), 'lead')).toEqual([]);
    expect(parts(on.notes(BARS(1), BARS(2)), 'lead').length).toBeGreaterThan(4);
    const off = on.revise(planOf(CHART), BARS(2));
    expect(parts(off.notes(BARS(2), BARS(6)), 'lead')).toEqual([]);
  });
});
