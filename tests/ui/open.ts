import { expect } from 'vitest';
import { page } from 'vitest/browser';
import { render } from 'vitest-browser-svelte';
import { bpm, newProject, type Project } from '../../src/engine/index.ts';
import App from '../../src/ui/App.svelte';
import { fetchBand } from '../../src/ui/band.ts';
import type { Preset } from '../../src/ui/ports.ts';
import type { SessionPorts } from '../../src/ui/session-ports.ts';
import { Session } from '../../src/ui/session.svelte.ts';
import { FakePlayer } from './harness/player.ts';

/** A project with these changes. */
export function chart(text: string, set: Partial<Project> = {}): Project {
  return newProject({
    title: 'Study',
    text,
    settings: { ...newProject().settings, tempo: bpm(120) },
    ...set,
  });
}

/** A session with a player that stands still until the test moves it. */
export function sessionOf(text: string, set: Partial<Project> = {}, ports: Partial<SessionPorts> = {}) {
  const player = new FakePlayer();
  const kept: Project[] = [];
  const session = new Session({
    player,
    presets: [],
    project: chart(text, set),
    keep: (project) => kept.push(project),
    ...ports,
  });
  session.preferences.set({ countIn: 0, tour: 'answered' });
  return { session, player, kept };
}

/** The whole page with these changes, as it is once it has stood for a while: what plays is here. */
export async function openPage(
  text: string,
  set: Partial<Project> = {},
  presets: readonly Preset[] = [],
  ports: Partial<SessionPorts> = {},
) {
  await page.viewport(1280, 800);
  await fetchBand();
  const { session, player, kept } = sessionOf(text, set, { presets, ...ports });
  const screen = await render(App, { session });
  const beat = (name: RegExp) => screen.getByRole('gridcell', { name }).first();
  return { screen, session, player, kept, beat };
}

/** Opens a sheet by its name in the header, from the list of sheets where there is no room for names. */
export async function openSheet(
  { screen }: Pick<Awaited<ReturnType<typeof openPage>>, 'screen'>,
  label: string,
) {
  const list = screen.container.querySelector<HTMLElement>('nav .sheets')!;
  const isShort = matchMedia('(width < 1280px)').matches;
  await expect.poll(() => list.checkVisibility()).toBe(isShort);
  if (isShort && list.textContent.trim() === label) return;
  if (isShort) list.click();
  const button = screen.getByRole('button', { name: label, exact: true });
  if (button.element().getAttribute('aria-expanded') === 'false') await button.click();
  await expect.poll(() => screen.container.querySelector('#panel [aria-busy="true"]')).toBeNull();
}
