import { describe, expect, it } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { beats, newProject } from '../../src/engine/index.ts';
import { entriesOf } from '../../src/ui/find/entries.ts';
import { PLACES } from '../../src/ui/find/places.ts';
import { controlAt, reach } from '../../src/ui/find/reach.ts';
import { search } from '../../src/ui/find/search.ts';
import { ACTIONS, DEFAULT_KEYS } from '../../src/ui/keys/actions.ts';
import { PANELS } from '../../src/ui/panels/panels.ts';
import { complaints, overflowing } from './everybody.ts';
import { openPage } from './open.ts';

const presets = [
  {
    id: 'b',
    title: 'A blues',
    sentence: 'Twelve bars.',
    project: newProject({ title: 'A blues', text: 'F7' }),
  },
];
const nothing = () => {};
const entries = entriesOf(DEFAULT_KEYS, presets, { perform: nothing, show: nothing, openChart: nothing });
const named = (wanted: string) => search(entries, wanted).map(({ name }) => name);
const blur = () => (document.activeElement as HTMLElement | null)?.blur();
const caption = () => {
  const { activeElement: element } = document;
  const own = element instanceof HTMLInputElement || element instanceof HTMLSelectElement;
  const group = element?.closest('fieldset')?.querySelector('legend')?.textContent;
  const label = own ? element.labels?.[0]?.textContent : undefined;
  return (group ?? element?.getAttribute('aria-label') ?? label ?? element?.textContent ?? '')
    .replaceAll(/\s+/g, ' ')
    .trim();
};

/** The page with the list of what can be found. */
async function finding(text = 'Dm7 | G7 | Cmaj7 | %', ...ports: [typeof presets] | []) {
  const there = await openPage(text, {}, ...ports);
  blur();
  await userEvent.keyboard('/');
  const field = there.screen.getByRole('combobox', { name: 'Find an action' });
  await expect.element(field).toBeVisible();
  await expect.poll(() => document.activeElement?.getAttribute('role')).toBe('combobox');
  return { ...there, field };
}

describe('what is looked for', () => {
  it.each([
    ['slower', 'Slower'],
    ['record', 'Record a take, or end it'],
    ['foot pedal', 'Keys and pedals'],
    ['swing', 'Swing follows the tempo'],
    ['left-handed', 'Left-handed'],
    ['lefty', 'Left-handed'],
    ['tuning', 'Tuning'],
    ['MIDI', 'The band as MIDI'],
    ['midi pedal', 'Learn a MIDI pedal'],
    ['dark mode', 'Light: day or night'],
    ['volume', 'Mixer'],
    ['wav', 'Sound file'],
    ['share', 'A link to this chart'],
    ['tempo', 'Slower'],
    ['bigger screen full', undefined],
    ['large', 'Stand view: large, for reading from two metres'],
    ['trade fours', 'Bars for you: trading'],
    ['transpose', 'Key of the chart'],
    ['twelve bars', 'A blues'],
    ['LÄDDER', 'Ladder: the tempo by steps'],
  ])('%s is found', (wanted, name) => {
    if (name === undefined) expect(named(wanted)).toEqual([]);
    else expect(named(wanted).slice(0, 3)).toContain(name);
  });

  it('is everything, every action and every sheet once, where nothing was typed', () => {
    const all = named('');
    for (const { name, what } of ACTIONS) if (name !== 'find') expect(all).toContain(what);
    expect(new Set(all).size).toBe(all.length);
    expect(all.length).toBe(entries.length);
  });

  it('leads to every sheet', () => {
    const shown = new Set<string>();
    const tell = { perform: nothing, show: (sheet: string) => void shown.add(sheet), openChart: nothing };
    entriesOf(DEFAULT_KEYS, [], tell).forEach(({ run }) => run());
    expect([...shown].toSorted()).toEqual(PANELS.map(({ name }) => name).toSorted());
  });

  it('must answer to every word', () => {
    expect(named('tuning zebra')).toEqual([]);
    expect(named('tempo steps')).toEqual(['Ladder: the tempo by steps']);
  });
});

describe('finding an action', () => {
  it('does what was found, and puts the focus back', async () => {
    const { session, field, beat } = await finding();
    await userEvent.keyboard('{Escape}');
    await expect.element(field).not.toBeInTheDocument();
    (beat(/^bar 2, beat 1/).element() as HTMLElement).focus();
    await userEvent.keyboard('/');
    await expect.poll(() => document.activeElement?.getAttribute('role')).toBe('combobox');
    await userEvent.keyboard('slower{Enter}');
    await expect.element(field).not.toBeInTheDocument();
    expect(session.settings.tempo).toBe(118);
    expect(document.activeElement?.getAttribute('aria-label')).toMatch(/^bar 2, beat 1/);
  });

  it('goes on while the band plays: a found Alter alters', async () => {
    const { session, player } = await finding('G7 | % | % | %');
    await session.play();
    player.at = beats(0.5);
    await userEvent.keyboard('alter from{Enter}');
    expect(session.playing.on).toBe(true);
    expect(session.playing.touches).toEqual([{ at: beats(1), length: beats(2), kind: 'altered' }]);
  });

  it('from within a text field by a key that is not typed', async () => {
    const { screen } = await openPage('C7');
    await screen.getByRole('textbox', { name: 'Chart as text' }).click();
    await userEvent.keyboard('{Control>}k{/Control}');
    await expect.element(screen.getByRole('combobox', { name: 'Find an action' })).toBeVisible();
    await userEvent.keyboard('{Escape}');
    await expect.poll(() => document.activeElement?.id).toBe('chart-text');
  });

  it('by the button in the header', async () => {
    const { screen } = await openPage('C7');
    await screen.getByRole('button', { name: 'Find an action' }).click();
    await expect.element(screen.getByRole('listbox', { name: 'Found' })).toBeVisible();
  });

  it('tells a screen reader which one is chosen, wherever the arrows go', async () => {
    const { screen, field } = await finding();
    const active = () => {
      const id = field.element().getAttribute('aria-activedescendant')!;
      const option = document.getElementById(id)!;
      return [option.getAttribute('aria-selected'), option.textContent.replaceAll(/\s+/g, ' ').trim()];
    };
    await field.fill('form');
    const options = () => screen.container.querySelectorAll('[role="option"]');
    const first = options()[0]!.textContent.replaceAll(/\s+/g, ' ').trim();
    expect(active()).toEqual(['true', first]);
    await userEvent.keyboard('{ArrowDown}');
    expect(active()[0]).toBe('true');
    expect(active()[1]).not.toBe(first);
    await userEvent.keyboard('{ArrowUp}{ArrowUp}');
    expect(active()[1]).toBe(options()[options().length - 1]!.textContent.replaceAll(/\s+/g, ' ').trim());
    expect(screen.container.querySelectorAll('[aria-selected="true"]').length).toBe(1);
    expect(screen.container.querySelector('.find [role="status"]')!.textContent).toMatch(
      /^\s*\d+\s+found\s*$/,
    );
  });

  it('shows the keys the player has set', async () => {
    const { session, screen, field } = await finding();
    session.preferences.set({ keys: { ...DEFAULT_KEYS, slower: ['F7'] } });
    await field.fill('slower');
    await expect.element(screen.getByRole('option', { name: /^Slower F7/ })).toBeVisible();
  });

  it('says what to do where nothing is called that', async () => {
    const { screen, field } = await finding();
    await field.fill('zebra');
    await expect.element(screen.getByText(/Nothing is called that. Try/)).toBeVisible();
    await userEvent.keyboard('{Enter}');
    await expect.element(field).toBeVisible();
  });

  it('opens a ready-made chart, which can be taken back', async () => {
    const { session } = await finding('C7', presets);
    await userEvent.keyboard('blues twelve{Enter}');
    expect(session.text).toBe('F7');
    session.undo();
    expect(session.text).toBe('C7');
  });

  it('opens a sheet and does not close it again', async () => {
    const { screen } = await finding();
    await userEvent.keyboard('edit the chart{Enter}');
    await expect.poll(() => document.activeElement?.id).toBe('chart-text');
    await expect.element(screen.getByRole('complementary', { name: 'Text' })).toBeVisible();
  });

  it('is by touch as well: a press does it', async () => {
    const { session, field, screen } = await finding();
    await field.fill('faster');
    await screen.getByRole('option', { name: /^Faster/ }).click();
    expect(session.settings.tempo).toBe(122);
  });
});

/** What only a page with library, plans, takes, files and MIDI has. */
const ELSEWHERE = ['plan', 'take', 'files'];

const hasPanel = ({ sheet }: (typeof PLACES)[number]) => !ELSEWHERE.includes(sheet);
const sheetsHere = [...new Set(PLACES.filter(hasPanel).map(({ sheet }) => sheet))];

describe('what has its place in a sheet', () => {
  it.each(sheetsHere)('is there: %s', async (sheet) => {
    const { screen } = await finding('Dm7 | G7 | Cmaj7 | %', presets);
    const [first, ...others] = PLACES.filter((place) => place.sheet === sheet);
    await userEvent.keyboard(`${first!.name}{Enter}`);
    const label = PANELS.find(({ name }) => name === sheet)!.label;
    await expect.element(screen.getByRole('complementary', { name: label })).toBeVisible();
    const wanted = () => controlAt(document.querySelector('#panel')!, first!);
    await expect.poll(() => wanted() !== null && wanted() === document.activeElement).toBe(true);
    expect(caption()).not.toBe('Close');
    for (const place of others) {
      expect(await reach(() => document.querySelector('#panel'), place), place.name).toBe(true);
      expect(document.activeElement, place.name).toBe(controlAt(document.querySelector('#panel')!, place));
      expect(caption(), place.name).not.toBe('Close');
      const box = document.activeElement!.getBoundingClientRect();
      expect([box.top >= 0, box.bottom <= 800], place.name).toEqual([true, true]);
    }
  });
});

describe.each([
  [360, 740],
  [740, 360],
  [1440, 900],
] as const)('at %i by %i', (width, height) => {
  it('everybody can find an action', async () => {
    const { field } = await finding();
    await page.viewport(width, height);
    expect(await complaints()).toEqual([]);
    expect(overflowing()).toEqual([]);
    const box = document.querySelector('.find')!.getBoundingClientRect();
    expect(box.left).toBeGreaterThanOrEqual(0);
    expect(box.right).toBeLessThanOrEqual(width);
    expect(box.bottom).toBeLessThanOrEqual(height);
    await field.fill('zebra');
    expect(await complaints()).toEqual([]);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
  });
});
