import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import {
  drillPlay,
  drillSource,
  GUITAR,
  newProject,
  playPieces,
  readText,
  stretchOf,
  type Plan,
} from '../../src/engine/index.ts';
import { planFromData, planToData, readPlans } from '../../src/storage/plans.ts';

const FOLDER = new URL('../../presets/plans/', import.meta.url);
const names = readdirSync(FOLDER).sort();

describe('the plans that come with the app', () => {
  it('are all found, with every step their files name', () => {
    const plans = readPlans();
    expect(plans.map(({ id }) => id)).toEqual(names.map((name) => name.slice(3, -5)));
    for (const [i, name] of names.entries()) {
      const file = JSON.parse(readFileSync(new URL(name, FOLDER), 'utf8')) as {
        steps: object[];
        source: string;
      };
      expect(plans[i]!.steps).toHaveLength(file.steps.length);
      expect(file.source).not.toBe('');
    }
  });

  it('have steps that can be played, and say what to listen for', () => {
    for (const { title, sentence, steps } of readPlans()) {
      expect(sentence, title).toMatch(/^[A-Z].+\.$/);
      for (const { project, goal, minutes } of steps) {
        const { chart, written } = readText(project.text);
        expect(chart.problems).toEqual([]);
        if (project.loop !== null) expect(stretchOf(project.loop, written)).not.toBeNull();
        expect(goal).toMatch(/^[A-Z].+\.$/);
        expect(minutes).toBeGreaterThan(0);
      }
    }
  });

  it('play their drills with the band, in every key they go through', () => {
    const drilled = readPlans().flatMap(({ steps }) => steps.filter(({ drill }) => drill !== null));
    expect(drilled.map(({ title }) => title)).toEqual(
      expect.arrayContaining(['Form by form', 'Thirds', 'Thirds and sevenths of the last four bars']),
    );
    for (const { title, drill, project } of drilled) {
      const kept = project.drills.find(({ id }) => id === drill)!;
      const reading = readText(project.text);
      const source = drillSource(project, reading);
      const play = drillPlay(kept, source, GUITAR, project.practice.keys !== null);
      if (!play.ok) throw new Error(`${title}: ${play.error.message}`);
      const { lead, written } = play.value;
      const made = lead.drill(written ?? playPieces(source.changes, source.pieces));
      expect(made?.problem, title).toBeNull();
      expect(made?.notes.length, title).toBeGreaterThan(4);
    }
  });

  it('name no drill that their chart does not have', () => {
    for (const name of names) {
      const file = JSON.parse(readFileSync(new URL(name, FOLDER), 'utf8')) as { steps: { drill?: string }[] };
      const plan = readPlans().find(({ id }) => name.endsWith(`${id}.json`))!;
      expect(plan.steps.map(({ drill }) => drill)).toEqual(file.steps.map(({ drill = null }) => drill));
    }
  });

  it('set what a step asks for over its chart', () => {
    const [plan] = readPlans();
    const thirds = plan!.steps.find(({ title }) => title === 'Thirds')!.project;
    expect(thirds.practice).toMatchObject({
      rest: 1,
      countIn: 1,
      ladder: { from: 60, to: 120, step: 4, rounds: 2 },
    });
    expect(thirds.settings.feel).toBe('swing');
  });
});

describe('a plan as it is kept', () => {
  const plan: Plan = {
    id: 'p',
    title: 'Mine',
    sentence: '',
    steps: [
      {
        title: 'One',
        minutes: 4,
        goal: 'Listen.',
        drill: null,
        project: newProject({ title: 'One', text: 'C7alt' }),
      },
    ],
  };

  it('comes back the same', () => {
    expect(planFromData('p', planToData(plan))).toEqual({ ok: true, value: plan });
  });

  it('is read as far as it can be, and refused with a remedy where nothing is left', () => {
    const data = planToData(plan);
    const steps = [
      ...(data['steps'] as object[]),
      null,
      4,
      { chart: 'no such chart' },
      { chart: { vampwright: 'x' } },
    ];
    const some = planFromData('p', { ...data, title: 7, steps });
    expect(some.ok && some.value).toMatchObject({ title: 'Untitled', steps: [{ title: 'One' }] });
    for (const broken of [{}, { steps: 'x' }, { steps: [null] }]) {
      const read = planFromData('p', broken);
      expect(!read.ok && read.error.remedy).toMatch(/\.$/);
    }
  });
});
