import { afterEach, describe, expect, it } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { beats, newProject } from '../../src/engine/index.ts';
import { USUAL_NECK } from '../../src/ui/neck/settings.ts';
import { PANELS } from '../../src/ui/panels/panels.ts';
import { wrong } from './everybody.ts';
import { openPage, openSheet } from './open.ts';

const SIZES = [
  [360, 740],
  [740, 360],
  [820, 1180],
  [1440, 900],
] as const;
const CHART = '[A] Dm7 G7 | Cmaj7 A7alt | Dm7 H7 | 3/4 Bb7 % | N.C. | (C7) |';
const presets = [
  { id: 'a', title: 'A vamp', sentence: 'Stay.', project: newProject({ title: 'A vamp', text: 'Ab7alt' }) },
];

afterEach(() => delete document.documentElement.dataset['theme']);

describe.each(SIZES)('at %i by %i', (width, height) => {
  it.each([null, ...PANELS.map(({ name }) => name)])('everybody can use the sheet: %s', async (panel) => {
    const { screen, session } = await openPage(CHART, {}, presets);
    await page.viewport(width, height);
    session.addRule();
    const label = PANELS.find(({ name }) => name === panel)?.label;
    if (label !== undefined) await openSheet({ screen }, label);
    else screen.container.querySelector<HTMLElement>('#panel [aria-label="Close"]')?.click();
    expect(await wrong(session)).toEqual([]);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  });

  it('everybody can change a treatment while the band plays', async () => {
    const { session, player, beat } = await openPage(CHART);
    await page.viewport(width, height);
    session.place({ from: beats(2), to: beats(4) }, 'altered');
    await session.play();
    player.at = beats(2.5);
    (beat(/^bar 1, beat 3/).element() as HTMLElement).focus();
    await userEvent.keyboard('t');
    expect(await wrong(session)).toEqual([]);
  });

  it.each([
    ['neck', { form: { number: 2, firstFret: 4, lastFret: 8 }, grip: true }],
    ['neck of eight strings', { tuning: [30, 35, 40, 45, 50, 55, 59, 64], hand: 'left', capo: 2 }],
    ['keys', { kind: 'keys', grip: true }],
  ] as const)('everybody can use the %s', async (_, values) => {
    const { screen, session, player } = await openPage(CHART);
    await page.viewport(width, height);
    const written = 'e-flat-low';
    session.preferences.set({ written, neck: { ...USUAL_NECK, shown: true, ...values } });
    await session.play();
    player.at = beats(1.5);
    session.playing.look();
    await expect.element(screen.getByRole('region', { name: /Neck|Keys/ })).toBeInTheDocument();
    expect(await wrong(session)).toEqual([]);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  });

  it('everybody can see functions and targets, and choose another scale', async () => {
    const { screen, session, beat } = await openPage(CHART);
    await page.viewport(width, height);
    session.preferences.set({ functions: true, targets: true, spelling: 'degree' });
    session.pickScale(beats(0), 'minor-pentatonic');
    await expect.element(screen.getByText(/ii7/).first()).toBeInTheDocument();
    expect(await wrong(session)).toEqual([]);
    (beat(/^bar 1, beat 1/).element() as HTMLElement).focus();
    await userEvent.keyboard('n');
    await expect.element(screen.getByRole('button', { name: 'As suggested' })).toBeInTheDocument();
    expect(await wrong(session)).toEqual([]);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  });
});
