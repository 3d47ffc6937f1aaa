import { describe, expect, it } from 'vitest';
import {
  barLength,
  beats,
  drillOf,
  drillPlay,
  drillSource,
  DRILL_KINDS,
  formTickOf,
  GUITAR,
  leadTime,
  newProject,
  NO_PRACTICE,
  PPQ,
  readText,
  roundMusic,
  startPerformance,
  ticks,
  usualDrill,
  type DrillKind,
  type DrillSettings,
  type KeptDrill,
  type PlayPlan,
  type Project,
} from '../../src/engine/index.ts';
import { planOf } from '../helpers/plan.ts';

const CHART = 'Dm7 | G7alt | Cmaj7 | A7 |';

/** A drill as it is played over a chart, and as it stands on paper. */
function played(
  kind: DrillKind,
  place: KeptDrill['place'],
  {
    text = CHART,
    set = {},
    plan = {},
    project = {},
  }: Partial<{
    text: string;
    set: Partial<DrillSettings>;
    plan: Partial<PlayPlan>;
    project: Partial<Project>;
  }> = {},
) {
  const settings = { ...usualDrill(kind, place === null ? 'changes' : 'chord'), ...set };
  const source = drillSource(newProject({ text, ...project }));
  const made = drillPlay({ place, settings }, source, GUITAR, plan.practice?.keys != null);
  const drill = drillOf({ place, settings }, source, GUITAR);
  if (!made.ok || !drill.ok) throw new Error('no drill');
  return { plan: { ...planOf(text, plan), ...made.value }, drill: drill.value };
}

const ALT = { bar: 1, at: ticks(0) };
const leadIn = (plan: PlayPlan, from: number, to: number) =>
  startPerformance(plan, { countIn: 0, from: ticks(0) })
    .notes(ticks(from), ticks(to))
    .filter(({ part }) => part === 'lead');

describe('a drill over a chord, played', () => {
  const chordKinds = (Object.keys(DRILL_KINDS) as DrillKind[]).filter((kind) =>
    DRILL_KINDS[kind].over.some((over) => over === 'chord'),
  );

  it.each(chordKinds)('has the band play the drill’s own bars and chords: %s', (kind) => {
    for (const text of [
      CHART,
      '3/4 Dm7 | G7alt | Cmaj7 |',
      '6/8 Dm7 | G7 | Cm7 |',
      '5/4 Dm7 | G7(b9,13) | C6 |',
    ]) {
      const { plan, drill } = played(kind, ALT, { text });
      const music = roundMusic(plan, 0);
      expect(music.length).toBe(drill.changes.length);
      const chordsOf = ({ spans }: typeof music) =>
        spans
          .filter(({ chord }, i) => chord?.text !== spans[i - 1]?.chord?.text)
          .map(({ start, chord }) => [start, chord?.text]);
      expect(chordsOf(music)).toEqual(chordsOf(drill.changes));
      expect(plan.lead.drill(music)!.notes).toEqual(drill.notes);
    }
  });

  it('says of all its bars where its chord stands in the form', () => {
    const { plan } = played('thirds', ALT);
    expect(formTickOf(plan, 0)).toBe(beats(4));
    expect(formTickOf(plan, beats(9))).toBe(beats(4));
  });

  it('leaves loop, treatments and hits of the chart aside', () => {
    const { plan } = played('thirds', ALT, { plan: { loop: { from: beats(4), to: beats(6) } } });
    expect(plan).toMatchObject({ loop: null, layers: { placed: [], rules: [] }, hits: [] });
    expect(readText(plan.text!).written).toEqual(plan.written);
  });

  it('goes through the keys, whole in each of them, for as long as the longest needs', () => {
    const practice = { ...NO_PRACTICE, keys: { order: 'rising-semitones', rounds: 1 } } as const;
    const { plan } = played('root-run', ALT, { plan: { practice } });
    const length = roundMusic(plan, 0).length;
    for (let round = 0; round < 12; round++) {
      const music = roundMusic(plan, round);
      const drill = plan.lead.drill(music)!;
      const last = drill.notes.at(-1)!;
      expect(last.at + last.length).toBeLessThanOrEqual(music.length);
      expect(drill.notes[0]!.degree).toBe('1');
      expect(drill.notes[0]!.pitch % 12).toBe((7 + round) % 12);
      const heard = leadIn(plan, round * length, (round + 1) * length);
      expect(heard.map(({ pitch }) => pitch)).toEqual(drill.notes.map(({ pitch }) => pitch));
    }
    const bar = barLength({ count: 4, unit: 4 });
    const ends = Array.from({ length: 12 }, (_, round) => plan.lead.drill(roundMusic(plan, round))!).map(
      ({ notes }) => Math.ceil((notes.at(-1)!.at + notes.at(-1)!.length) / bar),
    );
    expect(length / bar).toBe(Math.max(...ends));
  });
});

describe('a drill over changes, played', () => {
  it('is what the chart plays with a line over it, in the keys of its rounds', () => {
    const practice = { ...NO_PRACTICE, keys: { order: 'falling-fifths', rounds: 1 } } as const;
    const { plan, drill } = played('through', null, { plan: { practice } });
    expect(plan.lead.drill(roundMusic(plan, 0))!.notes).toEqual(drill.notes);
    expect(plan.stands).toBeUndefined();
    const next = plan.lead.drill(roundMusic(plan, 1))!;
    expect(next.notes[0]).toMatchObject({ name: 'G', degree: '1' });
    expect(next.changes.spans.map(({ chord }) => chord?.text)).toEqual(['Gm7', 'C7alt', 'Fmaj7', 'D7']);
  });

  it('plays the altered scale where a dominant is altered for a round, and only there', () => {
    const rule = {
      id: 'r1',
      kind: 'altered' as const,
      scope: 'every-dominant' as const,
      extent: { type: 'whole' as const },
      bars: null,
      when: { type: 'every' as const, nth: 2 },
    };
    const layers = { placed: [], rules: [rule] };
    const text = 'Dm7 | G7 | Cmaj7 | % |';
    const { plan } = played('through', null, { text, plan: { layers } });
    const over = (round: number) =>
      plan.lead
        .drill(roundMusic(plan, round))!
        .notes.filter(({ at }) => at >= beats(4) && at < beats(8))
        .map(({ degree }) => degree);
    expect(over(0)).not.toContain('b9');
    expect(over(1)).toContain('b9');
    expect(over(1)).not.toContain('9');
  });

  it('goes through what loops, run-up and landing included', () => {
    const loop = { from: beats(4), to: beats(8) };
    const practice = { ...NO_PRACTICE, landing: beats(4) };
    const project = { loop: { bar: 1, at: ticks(0), length: beats(4) }, practice };
    const { plan, drill } = played('chord-tones', null, { plan: { loop, practice }, project });
    expect(drill.changes.length).toBe(beats(8));
    expect(plan.lead.drill(roundMusic(plan, 0))!.notes).toEqual(drill.notes);
  });
});

describe('where a drill sounds', () => {
  it('is on the beat, and between the beats where the feel has its off-beats', () => {
    const { drill, plan } = played('thirds', ALT);
    const sounds = leadTime(drill, plan.settings);
    expect(sounds(PPQ)).toBe(PPQ);
    expect(sounds(PPQ / 2)).toBeGreaterThan(PPQ / 2);
    const even = played('thirds', ALT, { set: { rhythm: 'sixteenth' } }).drill;
    expect(leadTime(even, plan.settings)(PPQ / 2)).toBe(PPQ / 2);
  });
});
