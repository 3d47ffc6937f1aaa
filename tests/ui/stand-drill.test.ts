import { describe, expect, it } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { beats, ticks } from '../../src/engine/index.ts';
import { openPage, openSheet } from './open.ts';

/** The stand view while a drill is heard. */
async function atTheStand() {
  const opened = await openPage('Dm7 | G7alt | Cmaj7 | A7 |');
  await openSheet(opened, 'Drills');
  const { screen, player } = opened;
  await screen.getByRole('button', { name: 'Play with the band' }).click();
  await expect.element(screen.getByRole('button', { name: 'Stop', exact: true })).toBeVisible();
  await userEvent.keyboard('s');
  const sheet = screen.getByRole('region', { name: 'The drill' });
  const lead = () =>
    player.source?.notes(ticks(0), beats(16)).filter(({ part }) => part === 'lead').length ?? 0;
  return { ...opened, sheet, lead };
}

describe('in the stand view', () => {
  it('a drill that is heard is read in place of the ribbon, also once it was stopped and is played again', async () => {
    const { screen, session, sheet, lead } = await atTheStand();
    await expect.element(sheet).toBeVisible();
    await expect.poll(() => sheet.element().querySelectorAll('[role="option"]').length).toBeGreaterThan(8);
    await expect.element(screen.getByRole('grid', { name: /^Ribbon/ })).not.toBeInTheDocument();
    session.playing.stop();
    await screen.getByRole('button', { name: 'Play', exact: true }).click();
    await expect.poll(lead).toBeGreaterThan(8);
    await expect.element(sheet).toBeVisible();
    session.playing.stop();
  });

  it('the notes of the scale stay where a phone has no room for the neck that would show them', async () => {
    const { screen, session, sheet } = await atTheStand();
    await page.viewport(360, 590);
    await expect.element(sheet).toBeVisible();
    await userEvent.keyboard('k');
    const seen = (part: string) => screen.container.querySelector(part)?.checkVisibility() ?? false;
    await expect.poll(() => screen.container.querySelector('.stage.brief')).not.toBeNull();
    expect(seen('.neck')).toBe(false);
    expect(seen('.stage .scale div')).toBe(true);
    session.playing.stop();
  });

  it('the ribbon is back with the page, and Play plays the chart', async () => {
    const { screen, session, sheet, lead } = await atTheStand();
    await expect.element(sheet).toBeVisible();
    session.playing.stop();
    await userEvent.keyboard('s');
    await expect.element(screen.getByRole('grid', { name: /^Ribbon/ })).toBeVisible();
    await screen.getByRole('button', { name: 'Play', exact: true }).click();
    await expect.poll(() => session.playing.on).toBe(true);
    expect(lead()).toBe(0);
    session.playing.stop();
  });
});
