import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { asStep, newProject, planStep, type Project } from '../../src/engine/index.ts';
import { toBase64Url } from '../../src/storage/base64url.ts';
import { readProject, writeProject } from '../../src/storage/file.ts';
import { decodeLink, encodeLink } from '../../src/storage/link.ts';
import { planFromData, planToData } from '../../src/storage/plans.ts';
import { deflate } from '../../src/storage/squeeze.ts';
import { readHurtFiles } from '../helpers/hostile.ts';

const FIXTURE = readFileSync(new URL('fixtures/v1/step.json', import.meta.url), 'utf8');

function opened(text: string) {
  const read = readProject(text);
  if (!read.ok) throw new Error(read.error.message);
  return read.value;
}

async function linked(json: unknown) {
  const body = await deflate(new TextEncoder().encode(JSON.stringify(json)));
  const read = await decodeLink(`1.${toBase64Url(body)}AAA`);
  if (!read.ok) throw new Error(read.error.message);
  return read.value;
}

const STEP = {
  title: 'The spot, in thirds',
  minutes: 7.5,
  goal: 'Hear where each altered note goes.',
  drill: 'slow thirds',
};

describe('a chart that is a step of a plan', () => {
  it('says in its file what is practised, how long, what to listen for and with which drill', () => {
    const { project, notices } = opened(FIXTURE);
    expect(notices).toEqual([]);
    expect(project.step).toEqual(STEP);
    expect(project.loop).not.toBeNull();
    expect(opened(writeProject(project))).toEqual({ project, notices: [] });
  });

  it('says the same in a link, which an older version hands on whole', async () => {
    const { project } = opened(FIXTURE);
    const read = await decodeLink(await encodeLink(project));
    expect(read).toEqual({ ok: true, value: { project, notices: [] } });
    // What a version keeps that it does not know stands under `x` in the link it makes.
    const { step } = (await linked({ c: 'C7', x: { step: { title: 'Vamp', minutes: 5 } } })).project;
    expect(step).toEqual({ title: 'Vamp', minutes: 5, goal: '', drill: null });
  });

  it('is a chart by itself where nothing is said', () => {
    const { project } = opened('{"vampwright":1,"chart":["C7"]}');
    expect(project.step).toBeNull();
    expect(writeProject(project)).not.toContain('"step"');
  });

  it.each([
    ['thirds', ['step', 'step']],
    [[], ['step', 'step']],
    [null, ['step', 'step']],
    [{ title: 'Thirds' }, ['step']],
    [{ minutes: 5, goal: 'Listen.' }, ['step']],
    [{ title: 'Thirds', minutes: 0 }, ['step, minutes', 'step']],
    [{ title: 'Thirds', minutes: 1e9 }, ['step, minutes', 'step']],
    [{ title: 7, minutes: 5 }, ['step, title', 'step']],
  ])('is hurt: %j is left out with a word, and the chart stands', (step, places) => {
    const { project, notices } = opened(JSON.stringify({ vampwright: 1, chart: ['C7'], step }));
    expect(project).toEqual(newProject({ text: 'C7' }));
    expect(notices.map(({ place }) => place)).toEqual(places);
    expect(notices.at(-1)!.message).toBe('needs a title and minutes; the chart is here without its step');
  });

  it.each([
    [{ goal: 4 }, 'step, goal', { goal: '' }],
    [{ drill: 'd9' }, 'step, drill', { drill: null }],
    [{ colour: 'red' }, 'step, colour', {}],
  ])('with %j has what is left of it', (change, place, then) => {
    const raw = JSON.parse(FIXTURE) as { step: object };
    const { project, notices } = opened(JSON.stringify({ ...raw, step: { ...raw.step, ...change } }));
    expect(project.step).toEqual({ ...STEP, ...then });
    expect(notices.map((notice) => notice.place)).toEqual([place]);
  });

  it('whose drill was removed is written without it', () => {
    const { project } = opened(FIXTURE);
    expect(opened(writeProject({ ...project, drills: [] }))).toMatchObject({
      project: { step: { ...STEP, drill: null } },
      notices: [],
    });
  });

  it('hurt in a thousand ways is refused or opened as a sound chart', { timeout: 30_000 }, () => {
    const tally = readHurtFiles([FIXTURE], 1000, 7);
    expect(tally.opened).toBeGreaterThan(100);
    expect(tally.withNotices).toBeGreaterThan(50);
  });
});

describe('a step of a plan', () => {
  it('is opened as a chart that says what is practised, and is that step again', () => {
    const { project } = opened(FIXTURE);
    const step = planStep(STEP, { ...project, id: 'mine' });
    expect(step.project).toMatchObject({ id: '', step: null });
    expect(asStep(step)).toEqual(project);
  });

  it('keeps its drill in the plan; one that its chart does not have is none', () => {
    const { project } = opened(FIXTURE);
    const plan = { id: 'p', title: 'Mine', sentence: '', steps: [planStep(STEP, project)] };
    const data = planToData(plan);
    expect(planFromData('p', data)).toEqual({ ok: true, value: plan });
    const [raw] = data['steps'] as object[];
    const other = planFromData('p', { steps: [{ ...raw, drill: 'd9' }] });
    expect(other.ok && other.value.steps[0]!.drill).toBeNull();
  });

  it('is no longer than a link of a chart may be: thirty-two bars and a goal in under 300 characters', async () => {
    const section = 'Bbmaj7 G7 | Cm7 F7 | Dm7 G7alt | Cm7 F7 | Fm7 Bb7 | Ebmaj7 Ab7 | Dm7 G7 | Bb6 ||';
    const bridge = 'D7 | % | G7 | % | C7 | % | F7 | F7alt ||';
    const text = [`[A] ${section}`, `[A] ${section}`, `[B] ${bridge}`, `[A] ${section}`].join('\n');
    const { loop, practice, layers } = opened(FIXTURE).project;
    const chart: Project = newProject({ title: 'Thirty-two bars', text, loop, practice, layers });
    const step = { ...STEP, drill: null };
    const link = await encodeLink(asStep(planStep(step, chart)));
    expect(link.length).toBeLessThan(300);
    expect(link.length - (await encodeLink(chart)).length).toBeLessThan(110);
  });
});
