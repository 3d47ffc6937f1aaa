import { describe, expect, it } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { beats, newProject } from '../../src/engine/index.ts';
import { USUAL_NECK } from '../../src/ui/neck/settings.ts';
import type { PreferenceValues } from '../../src/ui/preferences.svelte.ts';
import { STEPS } from '../../src/ui/tour/steps.ts';
import { complaints, overflowing } from './everybody.ts';
import { openPage, openSheet } from './open.ts';

const presets = [
  {
    id: '07-two-five-one',
    title: 'Two, five, one',
    sentence: 'Home.',
    project: newProject({ title: 'Two, five, one', text: 'Dm7 | G7 | Cmaj7 | %' }),
  },
];
/** Until the page has looked where the music is, and what it saw is drawn. */
const frame = () => new Promise((resolve) => setTimeout(() => requestAnimationFrame(resolve), 40));

/** A page on which nobody has answered the tour yet. */
async function firstVisit(text = 'Dm7 | G7 | Cmaj7 | %') {
  const there = await openPage(text, {}, presets);
  there.session.preferences.set({ tour: 'offered' });
  const tour = there.screen.getByRole('region', { name: 'Tour' });
  await expect.element(tour).toBeInTheDocument();
  return { ...there, tour };
}

async function begun(text?: string) {
  const there = await firstVisit(text);
  await there.tour.getByRole('button', { name: 'Take the tour' }).click();
  await expect.element(there.tour).toHaveTextContent(/1 of 6/);
  return there;
}

describe('the tour', () => {
  it('is offered until it is answered, and not again', async () => {
    const { tour, session } = await firstVisit();
    await tour.getByRole('button', { name: 'No tour' }).click();
    await expect.element(tour).not.toBeInTheDocument();
    expect(session.preferences.values.tour).toBe('answered');
  });

  it('is remembered as answered from its first step on', async () => {
    const kept: PreferenceValues[] = [];
    const keeper = { read: () => null, write: (values: PreferenceValues) => void kept.push(values) };
    const { screen, session } = await openPage('C7', {}, [], { preferences: keeper });
    session.preferences.set({ tour: 'offered' });
    await screen.getByRole('button', { name: 'Take the tour' }).click();
    expect(kept.at(-1)?.tour).toBe('answered');
  });

  it('goes on by what is done: play, alter, loop, neck, slower, charts', async () => {
    const { tour, screen, session, player, beat } = await begun();
    await session.play();
    player.at = beats(0.5);
    await expect.element(tour).toHaveTextContent(/2 of 6.*That is the band/);

    player.at = beats(4.5);
    await frame();
    (document.activeElement as HTMLElement).blur();
    await userEvent.keyboard('a');
    await expect.element(tour).toHaveTextContent(/3 of 6.*Altered/);

    (beat(/^bar 2, beat 3/).element() as HTMLElement).focus();
    await userEvent.keyboard('{Shift>}{ArrowRight}{/Shift}l');
    expect(session.loop).toEqual({ from: beats(6), to: beats(8) });
    await expect.element(tour).toHaveTextContent(/4 of 6.*It goes round/);

    await screen.getByRole('button', { name: 'One form' }).click();
    await expect.element(tour).toHaveTextContent(/5 of 6.*There it lies/);

    await screen.getByRole('button', { name: 'Slower' }).click();
    await expect.element(tour).toHaveTextContent(/6 of 6.*Slower/);

    await openSheet({ screen }, 'Charts');
    await expect.element(tour).toHaveTextContent(/The tour is in Help/);
    await tour.getByRole('button', { name: 'Close the tour' }).click();
    await expect.element(tour).not.toBeInTheDocument();
  });

  it('does not take for done what was so before', async () => {
    const { tour, session } = await begun();
    session.setLoop({ from: beats(0), to: beats(4) });
    for (const number of [2, 3]) {
      await tour.getByRole('button', { name: 'Skip' }).click();
      await expect.element(tour).toHaveTextContent(new RegExp(`${number} of 6`));
    }
    await frame();
    await expect.element(tour).toHaveTextContent(/3 of 6/);
    session.setLoop({ from: beats(4), to: beats(6) });
    await expect.element(tour).toHaveTextContent(/4 of 6/);
  });

  it('counts a ladder as slower', async () => {
    const { tour, session } = await begun();
    for (let skips = 0; skips < 4; skips++) await tour.getByRole('button', { name: 'Skip' }).click();
    session.practising.set({ ladder: { from: 60, to: 120, step: 5, rounds: 4 } as never }, 'Ladder');
    await expect.element(tour).toHaveTextContent(/6 of 6/);
  });

  it('sees that the neck was put there, where it was away', async () => {
    const { tour, session } = await firstVisit();
    session.preferences.set({ neck: { ...USUAL_NECK, shown: false } });
    await tour.getByRole('button', { name: 'Take the tour' }).click();
    for (let skips = 0; skips < 3; skips++) await tour.getByRole('button', { name: 'Skip' }).click();
    await expect.element(tour).toHaveTextContent(/4 of 6.*in the sheet Neck/);
    await tour.getByRole('button', { name: 'Go there' }).click();
    const chosen = () => document.activeElement?.closest('fieldset')?.querySelector('legend')?.textContent;
    await expect.poll(chosen).toBe('Beside what sounds');
    await userEvent.keyboard('{ArrowRight}');
    await expect.element(tour).toHaveTextContent(/5 of 6.*There it lies/);
  });

  it('brings a chart with a plain dominant where all are altered already', async () => {
    const { tour, session } = await begun('C7alt | % | % | %');
    await tour.getByRole('button', { name: 'Skip' }).click();
    await tour.getByRole('button', { name: 'Open it' }).click();
    expect(session.text).toBe('Dm7 | G7 | Cmaj7 | %');
    await expect.element(tour).toHaveTextContent(/Press Play again.*Tap Alter/);
    session.undo();
    expect(session.text).toBe('C7alt | % | % | %');
  });

  it('leaves the space bar to the band when it begins', async () => {
    const { session } = await begun();
    await expect.poll(() => document.activeElement?.getAttribute('role')).toBe('status');
    await userEvent.keyboard(' ');
    expect(session.playing.on).toBe(true);
  });

  it('tells the key that the player has set', async () => {
    const { tour, session } = await begun();
    session.preferences.set({ keys: { ...session.preferences.values.keys, play: ['F9'] } });
    await expect.element(tour).toHaveTextContent(/F9/);
    session.preferences.set({ keys: { ...session.preferences.values.keys, play: [] } });
    await expect.element(tour).not.toHaveTextContent(/F9/);
  });

  it('begins again from the help sheet, as often as one likes', async () => {
    const { screen } = await openPage('Dm7 | G7');
    const tour = screen.getByRole('region', { name: 'Tour' });
    for (let times = 0; times < 2; times++) {
      await openSheet({ screen }, 'Help');
      await screen.getByRole('button', { name: 'Take the tour' }).click();
      await expect.element(tour).toHaveTextContent(/1 of 6/);
      await tour.getByRole('button', { name: 'End the tour' }).click();
      await expect.element(tour).not.toBeInTheDocument();
      await openSheet({ screen }, 'Charts');
    }
  });

  it.each(STEPS.map(({ name }, index) => [name, index] as const))(
    'leads to where one can %s',
    async (name, index) => {
      const { tour } = await begun();
      for (let skips = 0; skips < index; skips++) await tour.getByRole('button', { name: 'Skip' }).click();
      await tour.getByRole('button', { name: 'Go there' }).click();
      const said = () => {
        const { activeElement: element } = document;
        const group = element?.closest('fieldset')?.querySelector('legend')?.textContent;
        return group ?? element?.getAttribute('aria-label') ?? element?.textContent;
      };
      const expected = {
        play: /Play/,
        alter: /^\s*Alter/,
        loop: /^bar 1, beat 1/,
        neck: /One form/,
        slower: /Slower/,
        sheets: /Charts|Sheets|Text/,
      }[name];
      await expect.poll(said).toMatch(expected);
    },
  );
});

describe.each([
  [360, 740],
  [740, 360],
  [820, 1180],
  [1440, 900],
] as const)('at %i by %i the tour', (width, height) => {
  it('covers nothing, has room for all its words, and everybody can use it', async () => {
    const { tour } = await firstVisit();
    await page.viewport(width, height);
    const apart = () => {
      const strip = document.querySelector('.tour')!.getBoundingClientRect();
      const others = ['main', '.dock', 'header', '#panel'].flatMap((selector) => {
        const box = document.querySelector(selector)?.getBoundingClientRect();
        return box === undefined || box.height === 0 ? [] : [box];
      });
      return others.every((box) => box.top >= strip.bottom - 1 || box.bottom <= strip.top + 1);
    };
    await expect.poll(apart).toBe(true);
    expect(await complaints()).toEqual([]);
    await tour.getByRole('button', { name: 'Take the tour' }).click();
    for (let step = 1; step <= STEPS.length; step++) {
      await expect.element(tour).toHaveTextContent(new RegExp(`${step} of 6`));
      expect(apart()).toBe(true);
      expect(overflowing()).toEqual([]);
      expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
      expect(document.querySelector('.ribbon')!.getBoundingClientRect().height).toBeGreaterThan(60);
      await tour.getByRole('button', { name: 'Skip' }).click();
    }
    expect(await complaints()).toEqual([]);
  });
});
