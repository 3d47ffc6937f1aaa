import { describe, expect, it } from 'vitest';
import {
  beats,
  buildDrill,
  drillOf,
  drillSource,
  groundOf,
  GUITAR,
  loopOf,
  newProject,
  NO_PRACTICE,
  readText,
  suggestThrough,
  ticks,
  usualDrill,
  type DrillGround,
  type DrillKind,
  type KeptDrill,
  type PlacedTreatment,
  type Project,
} from '../../src/engine/index.ts';
import { drawDrill } from '../helpers/drills.ts';

const CHART = 'Dm7 G7 | Cmaj7 | A7 | N.C. |';
const projectOf = (text: string, set: Partial<Project> = {}) => newProject({ text, ...set });
const at = (bar: number, beat = 0): KeptDrill['place'] => ({ bar, at: beats(beat) });

function kept(kind: DrillKind, place: KeptDrill['place']): KeptDrill {
  return { id: 'd1', place, settings: usualDrill(kind, place === null ? 'changes' : 'chord'), printed: true };
}

function ground(project: Project, place: KeptDrill['place']): DrillGround {
  const found = groundOf(place, drillSource(project));
  if (!found.ok) throw new Error(found.error.message);
  return found.value;
}

/** The chord at a place, its scale and what follows: "G7: G mixolydian to Cmaj7". */
function chordAt(project: Project, place: KeptDrill['place']): string {
  const found = ground(project, place);
  if (found.over !== 'chord') throw new Error('no chord');
  const { chord, scale, next } = found.place;
  return `${chord.text}: ${scale.name} to ${next?.text ?? 'nothing'}`;
}

const trouble = (project: Project, drill: KeptDrill) => {
  const found = drillOf(drill, drillSource(project), GUITAR);
  return found.ok ? '' : `${found.error.message} ${found.error.remedy}`;
};
const altered: PlacedTreatment = {
  id: 't1',
  kind: 'altered',
  bar: 0,
  at: beats(2),
  length: beats(2),
  when: { type: 'always' },
};

describe('what a kept drill is made over', () => {
  it('is the chord at its written place, with its scale and the chord it leads to', () => {
    const project = projectOf(CHART);
    expect(chordAt(project, at(0))).toBe('Dm7: D dorian to G7');
    expect(chordAt(project, at(0, 2))).toMatch(/^G7: G .+ to Cmaj7$/);
    expect(chordAt(project, at(0, 3))).toBe(chordAt(project, at(0, 2)));
    // The last chord leads round the form into the first.
    expect(chordAt(projectOf('Dm7 | G7'), at(1))).toMatch(/ to Dm7$/);
    expect(chordAt(projectOf('G7alt | % | % |'), at(1))).toBe('G7alt: G altered to nothing');
  });

  it('is the chord as it is treated', () => {
    const project = projectOf(CHART, { layers: { placed: [altered], rules: [] } });
    expect(chordAt(project, at(0, 2))).toBe('G7alt: G altered to Cmaj7');
  });

  it('takes the scale that was picked, unless the treatment speaks against it', () => {
    const scales = [{ bar: 0, at: beats(2), scale: 'whole-tone' }];
    expect(chordAt(projectOf(CHART, { scales }), at(0, 2))).toBe('G7: G whole tone to Cmaj7');
    const project = projectOf(CHART, {
      scales: [{ bar: 0, at: beats(2), scale: 'major' }],
      layers: { placed: [altered], rules: [] },
    });
    expect(chordAt(project, at(0, 2))).toBe('G7alt: G altered to Cmaj7');
  });

  it('is all changes of the form, each with the scale suggested first for it', () => {
    const project = projectOf(CHART);
    const found = ground(project, null);
    const { written } = readText(CHART);
    expect(found).toEqual({
      over: 'changes',
      passage: { changes: written, scales: suggestThrough(written).map((offered) => offered[0] ?? null) },
    });
  });

  it('is what loops where something does, with run-up and landing, and scales as in the form', () => {
    const { written } = readText(CHART);
    const loop = loopOf({ from: beats(2), to: beats(4) }, written);
    const practice = { ...NO_PRACTICE, landing: beats(4) };
    const whole = ground(projectOf(CHART), null);
    const found = ground(projectOf(CHART, { loop, practice }), null);
    if (found.over !== 'changes' || whole.over !== 'changes') throw new Error('no changes');
    expect(found.passage.changes.length).toBe(beats(6));
    expect(found.passage.changes.spans.map(({ chord }) => chord?.text)).toEqual(['G7', 'Cmaj7']);
    expect(found.passage.scales).toEqual(whole.passage.scales.slice(1, 3));
    // Looped alone, the dominant still leads where it leads in the form.
    const alone = ground(projectOf(CHART, { loop }), null);
    if (alone.over !== 'changes') throw new Error('no changes');
    expect(alone.passage.scales).toEqual(whole.passage.scales.slice(1, 2));
  });
});

describe('a kept drill', () => {
  it('has the notes that its settings give over its ground', () => {
    const project = projectOf(CHART);
    for (const drill of [kept('thirds', at(0, 2)), kept('through', null)]) {
      const made = drillOf(drill, drillSource(project), GUITAR);
      if (!made.ok) throw new Error(made.error.message);
      expect(made.value).toEqual(buildDrill(drill.settings, ground(project, drill.place), GUITAR));
      expect(drawDrill(made.value)).not.toBe('');
    }
  });

  it('says why there is none, and what to do', () => {
    expect(trouble(projectOf(''), kept('thirds', at(0)))).toMatch(/no chord/);
    expect(trouble(projectOf(CHART), kept('thirds', at(9)))).toMatch(/bar 10 any more/);
    expect(trouble(projectOf(CHART), kept('thirds', at(3)))).toMatch(/bar 4/);
    const wrong = { ...kept('thirds', at(0)), place: null };
    expect(trouble(projectOf(CHART), wrong)).toMatch(/“Thirds” is made over one chord/);
    const loop = { bar: 3, at: ticks(0), length: beats(4) };
    expect(trouble(projectOf(CHART, { loop }), kept('through', null))).toMatch(/loops/);
  });
});
