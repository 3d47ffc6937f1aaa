import { describe, expect, it, vi } from 'vitest';
import { userEvent } from 'vitest/browser';
import { render } from 'vitest-browser-svelte';
import { beats } from '../../src/engine/index.ts';
import App from '../../src/ui/App.svelte';
import { RestReminder } from '../../src/ui/care.ts';
import { Quiz } from '../../src/ui/ear/quiz.svelte.ts';
import { PLAN, routineOf, step } from './harness/routine.ts';
import { openPage, openSheet, sessionOf } from './open.ts';

const BAR = beats(4);
describe('a plan', () => {
  it('runs itself: each step is said, played for its time, brought to its end, and followed by the next', async () => {
    vi.useFakeTimers();
    try {
      const { session, player, routine, said } = routineOf();
      await routine.begin(PLAN);
      expect(session.text).toBe('C7alt');
      expect(said).toEqual(['Vamp. 1\u00a0minute.']);
      expect(session.playing.on).toBe(true);
      await vi.advanceTimersByTimeAsync(59_000);
      expect(routine.left).toBeCloseTo(1, 0);
      expect(session.playing.ending).toBe(false);
      await vi.advanceTimersByTimeAsync(2000);
      expect(session.playing.ending).toBe(true);
      player.at = 40 * BAR;
      session.playing.look();
      expect(session.playing.on).toBe(false);
      await vi.advanceTimersByTimeAsync(1500);
      expect(session.text).toBe('Dm7 | G7');
      expect(said.at(-1)).toBe('Tune. 1\u00a0minute.');
      expect(session.playing.on).toBe(true);
      await routine.go(1);
      expect(routine.run).toBeNull();
      expect(session.playing.on).toBe(false);
    } finally {
      vi.useRealTimers();
    }
  });

  it('waits while the player has stopped the band', async () => {
    vi.useFakeTimers();
    try {
      const { session, routine } = routineOf();
      await routine.begin(PLAN);
      await vi.advanceTimersByTimeAsync(20_000);
      session.playing.stop();
      await vi.advanceTimersByTimeAsync(300_000);
      expect(routine.left).toBeCloseTo(40, 0);
      expect(routine.step!.title).toBe('Vamp');
    } finally {
      vi.useRealTimers();
    }
  });

  it('of one’s own is made of charts as they stand, kept, and changed', async () => {
    const { session, plans } = routineOf();
    session.rename('Mine');
    await plans.create('Evening', plans.stepOf({ minutes: 7, goal: 'Slowly.' }));
    expect(plans.own).toMatchObject([
      { title: 'Evening', steps: [{ title: 'Mine', minutes: 7, goal: 'Slowly.' }] },
    ]);
    const [plan] = plans.own;
    await plans.change({ ...plan!, steps: [...plan!.steps, step('Tune', 'G7')] });
    expect(plans.own[0]!.steps.map(({ project }) => project.text)).toEqual(['C7', 'G7']);
    await plans.remove(plans.own[0]!);
    expect(plans.own).toEqual([]);
  });

  it('stands in a sheet of its own that everybody can use, with what was practised', async () => {
    const { session, routine } = routineOf();
    const screen = await render(App, { session, routine });
    await userEvent.keyboard('y');
    await expect.element(screen.getByRole('heading', { name: 'Two steps' })).toBeVisible();
    await screen.getByRole('button', { name: 'Begin Two steps' }).click();
    await expect.element(screen.getByRole('region', { name: 'The plan that runs' })).toBeVisible();
    await expect.element(screen.getByText('Two steps, step 1 of 2')).toBeVisible();
    routine.end();
  });
});

describe('the diary', () => {
  it('writes down what was played for more than a moment, at which tempi, in which keys', async () => {
    const { session, player, routine, log } = routineOf();
    session.type('Dm7 | G7 | Cmaj7');
    session.rest();
    const clock = vi.spyOn(performance, 'now').mockReturnValue(0);
    try {
      await session.play();
      player.at = beats(1);
      session.playing.look();
      routine.diary.look();
      clock.mockReturnValue(45_000);
      session.setTempo(140);
      routine.diary.look();
      session.playing.stop();
      routine.diary.look();
      await session.play();
      player.at = beats(1);
      session.playing.look();
      routine.diary.look();
      clock.mockReturnValue(50_000);
      session.playing.stop();
      routine.diary.look();
    } finally {
      clock.mockRestore();
    }
    const kept = await log.list();
    expect(kept.value.map(({ data }) => data)).toMatchObject([
      { what: 'Study', seconds: 45, slowest: 120, fastest: 140, keys: ['C'] },
    ]);
  });
});

describe('by ear', () => {
  it('says so when the answer was another colour, and strikes it through', async () => {
    const { screen, session } = await openPage('Dm7 | G7 | Cmaj7 | %');
    session.preferences.set({ ear: {}, earKinds: ['altered', 'plain'] });
    await openSheet({ screen }, 'Ear');
    await screen.getByRole('button', { name: 'Begin to listen' }).click();
    const plain = screen.getByRole('group', { name: 'Answers' }).getByRole('button', { name: 'Plain' });
    const struck = () => getComputedStyle(plain.element()).textDecorationLine === 'line-through';
    for (let asked = 0; asked < 20 && !struck(); asked++) {
      if (asked > 0) await screen.getByRole('button', { name: 'Another' }).click();
      await plain.click();
    }
    expect(struck()).toBe(true);
    await expect.element(screen.getByText(/^No, it is altered\./)).toBeVisible();
  });

  it('the band plays a colour that is not shown until it is told, and then another', async () => {
    const { session, player } = sessionOf('Dm7 | G7 | Cmaj7 | %');
    const quiz = new Quiz(session);
    session.preferences.set({ ear: {}, earKinds: ['altered', 'sharp-eleven'] });
    await quiz.begin();
    player.at = BAR;
    session.playing.look();
    const sounding = () => session.playing.now!.place.changes.spans[1]!;
    const { kind } = quiz.question!;
    expect(sounding().treatment!.kind).toBe(kind);
    expect(session.sources.changes.spans.every(({ treatment }) => treatment === null)).toBe(true);
    const wrong = kind === 'altered' ? 'sharp-eleven' : 'altered';
    quiz.answer(wrong);
    expect(session.preferences.values.ear[kind]).toEqual({ asked: 1, right: 0, taken: { [wrong]: 1 } });
    expect(session.sources.changes.spans.some(({ treatment }) => treatment?.kind === kind)).toBe(true);
    quiz.answer(kind);
    expect(session.preferences.values.ear[kind]!.asked).toBe(1);
    player.at = 3 * BAR + beats(1.5);
    session.playing.look();
    quiz.look();
    expect(quiz.asked).toBe(2);
    expect(quiz.question!.answer).toBeNull();
    player.at = 4 * BAR;
    session.playing.look();
    expect(session.playing.now).toMatchObject({ bar: 0, tick: 0 });
    quiz.end();
    expect(session.overlay).toBeNull();
    expect(session.project.layers).toEqual({ placed: [], rules: [] });
  });

  it('says what is missing where no dominant lies', async () => {
    const { session } = sessionOf('Cmaj7 | Fmaj7');
    const quiz = new Quiz(session);
    await quiz.begin();
    expect(session.playing.on).toBe(false);
    expect(session.notice!.text).toMatch(/no dominant/);
  });
});

describe('a rest', () => {
  it('is reminded of after long playing, not after a pause that was one', async () => {
    const { session, player } = sessionOf('C7');
    let now = 0;
    const rest = new RestReminder(session, () => now);
    session.preferences.set({ restAfter: 25 });
    await session.play();
    player.at = 0;
    const playFor = (minutes: number) => {
      for (let i = 0; i < minutes * 60; i++) {
        now += 1000;
        rest.look();
      }
    };
    playFor(20);
    now += 180_000;
    playFor(20);
    expect(session.notice).toBeNull();
    playFor(6);
    expect(session.notice!.text).toMatch(/25 minutes.*rest/);
  });
});
