import { describe, expect, it } from 'vitest';
import {
  beats,
  bpm,
  courseOf,
  drillAgain,
  drillPlay,
  drillSource,
  GUITAR,
  layNotes,
  midi,
  newProject,
  performanceOf,
  readText,
  scriptOf,
  startPerformance,
  stretchOf,
  suggestAt,
  summarize,
  summaryWords,
  ticks,
  usualDrill,
  type Changes,
  type DrillKind,
  type HeardNote,
  type KeptDrill,
  type LayDrill,
  type Performance,
  type Project,
  type Seconds,
  type TakeMoment,
} from '../../../src/engine/index.ts';
import { planOf } from '../../helpers/plan.ts';

const TEMPO = 120;
const MOMENTS: readonly TakeMoment[] = [{ tick: 0, at: 0, tempo: bpm(TEMPO) }];
const scaleAt = (changes: Changes, span: number) => suggestAt(changes, span, null)[0] ?? null;

/** "beat key length": a line played at 120, in quarter notes, each heard `late` seconds later. */
function played(line: string, late = 0): HeardNote[] {
  return line.split(', ').map((word) => {
    const [at, key, length = '0.5'] = word.split(' ');
    return {
      at: ((Number(at) * 60) / TEMPO + late) as Seconds,
      length: ((Number(length) * 60) / TEMPO) as Seconds,
      pitch: key === 'chord' ? null : midi(Number(key)),
      cents: 0,
      clarity: 1,
      level: 0.1,
    };
  });
}

function ground(text: string, set: Partial<Parameters<typeof planOf>[1]> = {}, lag = 0) {
  const plan = planOf(text, { ...set, text });
  const settings = { ...plan.settings, tempo: bpm(TEMPO), feel: 'straight-eighths' };
  const performance = startPerformance({ ...plan, settings }, { countIn: 0, from: ticks(0) });
  return {
    course: courseOf(MOMENTS, lag),
    locate: (tick: number) => performance.locate(tick),
    scaleAt,
    settings,
  };
}

const roles = (text: string, line: string) =>
  layNotes(played(line), ground(text)).map(({ name, degree, role }) => `${name} ${degree} ${role}`);

describe('a note that was played', () => {
  it('has its role over the chord that sounded', () => {
    expect(roles('G7alt | Cmaj7', '0 56, 0.5 58, 1 59, 1.5 61, 2 63, 2.5 65, 3 67, 3.5 62')).toEqual([
      'Ab b9 tension',
      'A# #9 tension',
      'B 3 guide',
      'Db b5 fifth',
      'D# #5 fifth',
      'F b7 guide',
      'G 1 root',
      'D 5 outside',
    ]);
    expect(roles('Cmaj7', '0 65, 1 69, 2 61')).toEqual(['F 11 avoid', 'A 13 tension', 'Db b9 outside']);
  });

  it('belongs to the chord it pushes into, and else to the one it begins over', () => {
    const chords = (line: string) => layNotes(played(line), ground('G7 | Cmaj7')).map(({ chord }) => chord);
    expect(chords('3.5 64 2')).toEqual(['Cmaj7']);
    expect(chords('3.5 65 0.5')).toEqual(['G7']);
    expect(chords('3 65 4')).toEqual(['G7']);
    expect(chords('3.98 64 0.3')).toEqual(['Cmaj7']);
  });

  it('is not guessed where several sound, and has no role where no chord does', () => {
    expect(roles('G7', '0 chord')).toEqual(['null null null']);
    expect(roles('N.C. | G7', '0 60')).toEqual(['null null null']);
  });

  it('lies where it was played when what the sound took on its way is known', () => {
    const late = layNotes(played('2 60', 0.08), ground('C7', {}, 0.08));
    expect(late[0]!.at).toBe(beats(2));
    expect(layNotes(played('2 60', 0.08), ground('C7'))[0]!.at).toBeGreaterThan(beats(2.1));
  });

  it('played into the count-in is left out, but for one that is a hair too early', () => {
    const laid = layNotes(played('-1 58 2, -0.5 60, -0.1 62'), ground('C7'));
    expect(laid.map(({ note, at }) => [note.pitch, at])).toEqual([[62, 0]]);
  });

  it('lies in its round', () => {
    const laid = layNotes(played('3 60, 5 60, 9 60'), ground('C7'));
    expect(laid.map(({ round, into }) => [round, into])).toEqual([
      [0, beats(3)],
      [1, beats(1)],
      [2, beats(1)],
    ]);
  });
});

describe('a recording and its music', () => {
  it('run together through every tempo, there and back', () => {
    const course = courseOf(
      [
        { tick: beats(-4), at: 0, tempo: bpm(120) },
        { tick: beats(0), at: 2, tempo: bpm(60) },
        { tick: beats(2), at: 4, tempo: bpm(240) },
      ],
      0.05,
    );
    expect(course.tickAt(2.05)).toBeCloseTo(0, 6);
    expect(course.tickAt(3.05)).toBeCloseTo(beats(1), 6);
    expect(course.secondsAt(beats(4))).toBeCloseTo(4.55, 9);
    for (const at of [-1, 0.3, 2.5, 4.1, 9]) expect(course.secondsAt(course.tickAt(at))).toBeCloseTo(at, 9);
  });
});

describe('what a chorus says', () => {
  const says = (text: string, line: string) => {
    const there = ground(text);
    return summarize(layNotes(played(line), there), there).map(summaryWords);
  };

  it('is counted: the colours of the altered dominants, used and not', () => {
    const [words] = says('G7alt | Cmaj7', '0 56, 0.5 56, 1 63, 1.5 65, 2 56, 2.5 56, 4 64 2');
    expect(words).toContain('Over the altered dominants: b9 four times and #5 once; #9 and b5 never.');
    expect(words![0]).toBe('7 notes: 3 chord tones, 4 tensions, 0 other scale notes, 0 outside.');
  });

  it('is where phrases began', () => {
    const [words] = says('C7 | F7', '0 60, 0.5 62, 1 64, 3 65, 3.5 67, 6 69');
    expect(words!.find((word) => word.startsWith('Phrases'))).toBe(
      'Phrases began in bar 1, beat 1; bar 1, beat 4; bar 2, beat 3.',
    );
  });

  it('is how the notes lay to the felt beat, as a fact', () => {
    const there = ground('C7 | F7');
    const late = played('0 60, 0.5 62, 1 64, 1.5 65, 2 67, 2.5 69, 3 70', 0.02);
    expect(summarize(layNotes(late, there), there)[0]!.timing).toEqual({
      notes: 7,
      median: 20,
      from: 20,
      to: 20,
    });
    const few = summarize(layNotes(played('0 60, 1 62'), there), there);
    expect(few[0]!.timing).toBeNull();
  });

  it('is said for each chorus by itself, chords and all', () => {
    const words = says('C7', '0 60, 1 chord, 4 61');
    expect(words).toHaveLength(2);
    expect(words[0]).toContain('One chord was heard and not followed.');
  });

  it('never praises or blames', () => {
    const words = says('G7alt | Cmaj7', '0 62, 0.5 61, 1 63, 4 61, 5 66').flat().join(' ');
    expect(words).not.toMatch(/wrong|right|good|bad|mistake|correct|should/i);
  });
});

describe('the band of a take', () => {
  const notes = (performance: Performance) =>
    performance
      .notes(performance.begin, beats(64))
      .map(({ part, at, pitch, length }) => [part, at, pitch, length]);
  const kept = (performance: Performance) =>
    performanceOf(JSON.parse(JSON.stringify(scriptOf(performance))) as ReturnType<typeof scriptOf>);

  it('plays again note for note: live touches, another chart, another tempo and its end', () => {
    const text = 'Dm7 | G7 | Cmaj7 | A7';
    const other = 'Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7';
    const begun = startPerformance(planOf(text, { text }), { countIn: 1, from: beats(4) });
    const played = begun
      .touch(beats(4), null, 'altered')
      .release(beats(6))
      .revise(
        planOf(other, { text: other, settings: { ...planOf(other).settings, tempo: bpm(200), seed: 5 } }),
        beats(12),
        (bar) => bar,
      )
      .again(beats(20))
      .touch(beats(22), beats(2), 'sharp-eleven')
      .finish(beats(30), 'round');
    const again = kept(played);
    expect(again.ok).toBe(true);
    if (again.ok) {
      expect(notes(again.value)).toEqual(notes(played));
      expect(again.value.end).toBe(played.end);
      expect(again.value.begin).toBe(beats(-4));
    }
    const without = kept(begun);
    if (without.ok) expect(notes(without.value)).not.toEqual(notes(played));
  });

  it('plays its loop again', () => {
    const text = 'Dm7 | G7 | Cmaj7 | A7';
    const plan = planOf(text, { text, loop: { from: beats(4), to: beats(12) } });
    const again = kept(startPerformance(plan, { countIn: 0, from: beats(2) }));
    expect(again.ok && notes(again.value)).toEqual(
      notes(startPerformance(plan, { countIn: 0, from: beats(2) })),
    );
  });

  describe('with a drill', () => {
    const CHART = 'Dm7 | G7 | Cmaj7 | A7';
    const drilled = (
      kind: DrillKind,
      place: KeptDrill['place'],
      set: Partial<Project> = {},
      alone = false,
    ) => {
      const chart = newProject({ text: CHART, ...set });
      const settings = usualDrill(kind, place === null ? 'changes' : 'chord');
      const keys = chart.practice.keys !== null;
      const made = drillPlay({ place, settings }, drillSource(chart), GUITAR, keys);
      if (!made.ok) throw new Error(made.error.message);
      const { lead, ...bars } = made.value;
      const loop = chart.loop && stretchOf(chart.loop, readText(CHART).written);
      const base = planOf(CHART, { text: CHART, practice: chart.practice, layers: chart.layers, loop });
      return { ...base, ...bars, lead: { ...lead, alone } };
    };
    const again = (performance: Performance, lay: LayDrill | null = drillAgain) => {
      const script = JSON.parse(JSON.stringify(scriptOf(performance))) as ReturnType<typeof scriptOf>;
      const made = performanceOf(script, lay);
      if (!made.ok) throw new Error(made.error);
      return made.value;
    };
    const G7 = { bar: 1, at: ticks(0) };
    const keys = { ...newProject().practice, keys: { order: 'falling-fifths' as const, rounds: 1 } };

    it.each([
      ['one chord', drilled('thirds', G7)],
      ['one chord, alone', drilled('thirds', G7, {}, true)],
      ['one chord through the keys', drilled('thirds', G7, { practice: keys })],
      ['the changes', drilled('through', null)],
      ['what loops', drilled('through', null, { loop: { bar: 1, at: ticks(0), length: beats(8) } })],
      ['a scale that was picked', drilled('thirds', G7, { scales: [{ ...G7, scale: 'altered' }] })],
    ])('over %s plays its line again, note for note', (_, plan) => {
      const played = startPerformance(plan, { countIn: 1, from: ticks(0) }).touch(
        beats(6),
        beats(2),
        'altered',
      );
      expect(notes(played).some(([part]) => part === 'lead')).toBe(true);
      expect(notes(again(played))).toEqual(notes(played));
      expect(again(played).lineup).toEqual(played.lineup);
    });

    it('stands for its chord in the chart as it was typed', () => {
      const played = startPerformance(drilled('thirds', G7), { countIn: 0, from: ticks(0) });
      expect(scriptOf(played).plans[0]!.project.text).toBe(CHART);
      expect(again(played).formTick(beats(9))).toBe(beats(4));
    });

    it('has the scale of the drill under it, in the key that sounds', () => {
      const plan = drilled('thirds', G7, { scales: [{ ...G7, scale: 'altered' }], practice: keys });
      const played = again(startPerformance(plan, { countIn: 0, from: ticks(0) }));
      const at = (tick: number) => {
        const { changes } = played.locate(tick);
        return played.beginning.plan.lead!.scaleAt!(changes, 0)!.name;
      };
      expect(at(0)).toBe('G altered');
      expect(at(played.locate(0).changes.length)).toBe('C altered');
    });

    it('is played by the band alone where no drills are at hand, or the chart has no place for it', () => {
      const played = startPerformance(drilled('thirds', G7), { countIn: 0, from: ticks(0) });
      expect(notes(again(played, null)).some(([part]) => part === 'lead')).toBe(false);
      const script = scriptOf(played);
      const plans = script.plans.map((plan) => ({ ...plan, project: { ...plan.project, text: 'C7' } }));
      const other = performanceOf({ ...script, plans }, drillAgain);
      expect(other.ok && notes(other.value).some(([part]) => part === 'lead')).toBe(false);
    });
  });

  it('is refused with a reason where what was kept makes no sense', () => {
    const script = scriptOf(startPerformance(planOf('C7', { text: 'C7' }), { countIn: 0, from: ticks(0) }));
    expect(performanceOf({ ...script, plans: [] }).ok).toBe(false);
    expect(performanceOf({ ...script, from: beats(400) }).ok).toBe(false);
    expect(
      performanceOf({ ...script, events: [{ type: 'revise', at: beats(1), plan: 9, follow: [] }] }).ok,
    ).toBe(false);
    expect(readText(script.plans[0]!.project.text).written.length).toBe(beats(4));
  });
});
