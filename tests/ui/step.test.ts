import { describe, expect, it, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { render } from 'vitest-browser-svelte';
import {
  asStep,
  beats,
  ok,
  planStep,
  ticks,
  usualDrill,
  type KeptDrill,
  type Project,
} from '../../src/engine/index.ts';
import { readProject, writeProject } from '../../src/storage/file.ts';
import { decodeLink, encodeLink } from '../../src/storage/link.ts';
import App from '../../src/ui/App.svelte';
import type { Exchange } from '../../src/ui/ports.ts';
import { complaints, overflowing } from './everybody.ts';
import { routineOf, step } from './harness/routine.ts';
import type { FakePlayer } from './harness/player.ts';

const BAR = beats(4);
const STEP = { title: 'The spot, in thirds', minutes: 2, goal: 'Hear where b9 goes.', drill: null };
const THIRDS: KeptDrill = {
  id: 'slow',
  place: { bar: 0, at: ticks(0) },
  settings: usualDrill('thirds', 'chord'),
  printed: true,
};

const EXCHANGE: Exchange = {
  write: writeProject,
  read: readProject,
  link: encodeLink,
  readLink: decodeLink,
  ending: '.json',
};

async function openStep(set: Partial<Project> = {}) {
  const made = routineOf({ step: STEP, ...set }, { exchange: EXCHANGE });
  await page.viewport(1280, 800);
  const screen = await render(App, { session: made.session, routine: made.routine });
  const button = (name: string | RegExp) => screen.getByRole('button', { name });
  return { ...made, screen, button, strip: screen.getByRole('region', { name: 'Step', exact: true }) };
}

const parts = ({ source }: FakePlayer) =>
  new Set(source?.notes(ticks(0), ticks(2 * BAR)).map(({ part }) => part));

async function linkIn(screen: Awaited<ReturnType<typeof openStep>>['screen']) {
  const field = () => screen.container.querySelector<HTMLInputElement>('#panel input[readonly]');
  await expect.poll(() => field()?.value).toMatch(/#1\./);
  const read = await decodeLink(new URL(field()!.value).hash);
  if (!read.ok) throw new Error(read.error.message);
  return read.value;
}

describe('a chart that is a step', () => {
  it('says what is practised, how long and what to listen for, wherever the page is looked at', async () => {
    const { strip, routine, session } = await openStep();
    await expect.element(strip).toHaveTextContent(/The spot, in thirds\s*2 minutes\s*Hear where ♭9 goes\./);
    await userEvent.keyboard('s');
    await expect.element(strip).toBeVisible();
    await userEvent.keyboard('s');
    await strip.getByRole('button', { name: 'Put the step away' }).click();
    await expect.element(strip).not.toBeInTheDocument();
    expect(session.project.step).toEqual(STEP);
    expect(routine.shown).toBeNull();
  });

  it('is started like a step of a plan: said, counted while the band plays, left again', async () => {
    const { strip, session, routine, said } = await openStep();
    session.preferences.set({ spoken: true });
    await strip.getByRole('button', { name: 'Start the step' }).click();
    await expect.poll(() => session.playing.on).toBe(true);
    expect(said).toEqual(['The spot, in thirds. 2\u00a0minutes.']);
    expect(session.text).toBe('C7');
    await expect.element(strip.getByRole('timer')).toHaveTextContent('2:00');
    session.playing.stop();
    await strip.getByRole('button', { name: 'Go on' }).click();
    await expect.poll(() => session.playing.on).toBe(true);
    await strip.getByRole('button', { name: 'Leave it' }).click();
    expect(routine.run).toBeNull();
    expect(session.playing.on).toBe(true);
    await expect.element(strip.getByRole('button', { name: 'Start the step' })).toBeVisible();
    session.playing.stop();
  });

  it('ends when its time is over, with a cue and a line in the log under its name', async () => {
    vi.useFakeTimers();
    try {
      const { session, player, routine, said, log } = routineOf({ step: STEP });
      await routine.start();
      player.at = beats(1);
      session.playing.look();
      routine.diary.look();
      await vi.advanceTimersByTimeAsync(121_000);
      expect(session.playing.ending).toBe(true);
      player.at = 40 * BAR;
      session.playing.look();
      routine.diary.look();
      await vi.advanceTimersByTimeAsync(1500);
      expect(routine.run).toBeNull();
      expect(said.at(-1)).toMatch(/Rest your hands/);
      const kept = await log.list();
      expect(kept.value.map(({ data }) => data['what'])).toEqual([STEP.title]);
    } finally {
      vi.useRealTimers();
    }
  });

  it('is no longer counted once another chart is open', async () => {
    const { session, routine } = routineOf({ step: STEP });
    await routine.start();
    expect(routine.step?.title).toBe(STEP.title);
    session.open({ ...session.project, id: '', text: 'Dm7', step: null });
    expect(routine.step).toBeNull();
    expect(routine.shown).toBeNull();
    routine.end();
  });

  it('is changed, taken off and taken back in the sheet of plans', async () => {
    const { session, screen } = await openStep();
    await userEvent.keyboard('y');
    const region = screen.getByRole('region', { name: 'The step of this chart' });
    await expect.element(region).toBeVisible();
    await region.getByRole('button', { name: 'Lasts: more' }).click();
    await userEvent.fill(region.getByRole('textbox', { name: 'What to listen for' }), 'The b13.');
    await userEvent.tab();
    expect(session.project.step).toEqual({ ...STEP, minutes: 3, goal: 'The b13.' });
    await region.getByRole('button', { name: 'Take the step off the chart' }).click();
    expect(session.project.step).toBeNull();
    session.undo();
    session.undo();
    expect(session.project.step).toEqual({ ...STEP, minutes: 3 });
    session.undo();
    expect(session.project.step).toEqual(STEP);
  });

  it('is kept into a plan of the player’s own', async () => {
    const { session, screen, plans } = await openStep();
    await userEvent.keyboard('y');
    await screen.getByRole('button', { name: 'Keep it in a plan of my own' }).click();
    await expect.poll(() => plans.own.length).toBe(1);
    const [plan] = plans.own;
    expect(plan!.steps[0]).toMatchObject({ ...STEP, project: { text: 'C7', step: null } });
    expect(session.project.step).toEqual(STEP);
    await expect.element(screen.getByRole('button', { name: 'Add it to My plan' })).toBeVisible();
  });

  it('goes into the chart’s link, or stays out of it', async () => {
    const { screen, session } = await openStep();
    await userEvent.keyboard('j');
    await screen.getByRole('button', { name: 'A link' }).click();
    expect(await linkIn(screen)).toEqual({ project: { ...session.project, id: '' }, notices: [] });
    await screen.getByRole('checkbox', { name: /^With the step: The spot, in thirds/ }).click();
    await expect.poll(async () => (await linkIn(screen)).project.step).toBeNull();
  });
});

describe.each([
  [360, 740],
  [740, 360],
  [820, 1180],
  [1440, 900],
])('at %i by %i', (width, height) => {
  it.each(['day', 'night'] as const)('by %s everybody can use a step and change it', async (theme) => {
    const goal = 'Hear where each altered note goes: b9 to the fifth, #9 by way of b9, b13 to the ninth.';
    const { session, screen, strip } = await openStep({ step: { ...STEP, goal }, drills: [THIRDS] });
    await page.viewport(width, height);
    session.preferences.set({ theme });
    await strip.getByRole('button', { name: 'Start the step' }).click();
    await expect.element(strip.getByRole('timer')).toBeVisible();
    await userEvent.keyboard('s');
    const rules = theme === 'day' ? 'all' : 'colours';
    expect([...(await complaints(rules)), ...overflowing()]).toEqual([]);
    await userEvent.keyboard('y');
    await expect.element(screen.getByRole('region', { name: 'The step of this chart' })).toBeVisible();
    await screen.getByRole('button', { name: 'Link to this step', exact: true }).click();
    await linkIn(screen);
    expect([...(await complaints(rules)), ...overflowing()]).toEqual([]);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
    session.playing.stop();
    delete document.documentElement.dataset['theme'];
  });
});

describe('a link to a step', () => {
  it('is made from any plan, and opens as that step', async () => {
    const { screen } = await openStep({ step: null });
    await userEvent.keyboard('y');
    await screen.getByText('Its steps').click();
    await screen.getByRole('button', { name: /^Link to this step ?: Tune/ }).click();
    const { project, notices } = await linkIn(screen);
    expect(notices).toEqual([]);
    expect(project).toMatchObject({ text: 'Dm7 | G7', step: { title: 'Tune', goal: 'Listen.', minutes: 1 } });
  });

  it('is made from the open chart and what is said of it, though it is no step itself', async () => {
    const { screen, session } = await openStep({ step: null });
    await userEvent.keyboard('y');
    await userEvent.fill(screen.getByRole('textbox', { name: 'What to listen for' }), 'The third.');
    await userEvent.tab();
    await screen.getByRole('button', { name: 'Link to this step', exact: true }).click();
    const { project } = await linkIn(screen);
    expect(project.step).toEqual({ title: 'Study', minutes: 5, goal: 'The third.', drill: null });
    expect(session.project.step).toBeNull();
  });

  it('is made while a plan runs', async () => {
    const { screen, session, routine, strip } = await openStep({ step: null });
    await userEvent.keyboard('y');
    await screen.getByRole('button', { name: 'Begin Two steps' }).click();
    await expect.element(strip).toHaveTextContent(/1\/.*2.*Vamp/);
    const now = screen.getByRole('region', { name: 'The plan that runs' });
    await now.getByRole('button', { name: 'Link to this step' }).click();
    expect((await linkIn(screen)).project).toMatchObject({ text: 'C7alt', step: { title: 'Vamp' } });
    await strip.getByRole('button', { name: 'Next step' }).click();
    await expect.element(strip).toHaveTextContent('Tune');
    await strip.getByRole('button', { name: 'Leave the plan' }).click();
    await expect.element(strip).not.toBeInTheDocument();
    expect(routine.run).toBeNull();
    session.playing.stop();
  });
});

describe('a step with a drill', () => {
  const drilled = { drills: [THIRDS], step: { ...STEP, drill: 'slow' } };

  it('is heard with the band as its sheet is, and lies open', async () => {
    const { player, session, strip, screen } = await openStep(drilled);
    await strip.getByRole('button', { name: 'Start the step' }).click();
    await expect.poll(() => session.playing.on).toBe(true);
    expect(parts(player)).toContain('lead');
    expect(parts(player)).toContain('bass');
    await expect.element(screen.getByRole('heading', { name: /^Thirds, C/ })).toBeVisible();
    await strip.getByRole('button', { name: 'Leave it' }).click();
    session.playing.stop();
    await session.play();
    expect(parts(player)).toContain('lead');
    session.playing.stop();
    await userEvent.keyboard('u');
    await session.play();
    expect(parts(player)).not.toContain('lead');
    session.playing.stop();
  });

  it('plays by itself in a plan, and the next step without it', async () => {
    const { session, player, routine } = routineOf();
    const [first, second] = [step('Thirds', 'C7alt'), step('Tune', 'Dm7 | G7')];
    const project = { ...first.project, drills: [THIRDS] };
    const plan = {
      id: 'p',
      title: 'Mine',
      sentence: '',
      steps: [planStep({ ...first, drill: 'slow' }, project), second],
    };
    await routine.begin(plan);
    expect(parts(player)).toContain('lead');
    await routine.go(1);
    expect(session.text).toBe('Dm7 | G7');
    expect(parts(player)).not.toContain('lead');
    routine.end();
  });

  it('is chosen where the step is changed', async () => {
    const { session, screen } = await openStep({ drills: [THIRDS] });
    await userEvent.keyboard('y');
    const choice = screen.getByRole('combobox', { name: 'Heard with a drill' });
    await expect.element(choice).toHaveTextContent(/1: Thirds, eighths/);
    await userEvent.selectOptions(choice, 'slow');
    expect(session.project.step!.drill).toBe('slow');
    const read = readProject(writeProject(session.project));
    expect(read).toEqual(ok({ project: { ...session.project, id: '' }, notices: [] }));
  });

  it('whose drill is gone plays with the band alone', async () => {
    const { player, routine, plans } = routineOf({ step: { ...STEP, drill: 'gone' } });
    await routine.start();
    expect(parts(player)).not.toContain('lead');
    routine.end();
    expect(asStep(plans.stepOf()).step!.drill).toBe('gone');
  });
});
