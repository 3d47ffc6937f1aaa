import { afterEach, describe, expect, it, vi } from 'vitest';
import { page, userEvent } from 'vitest/browser';
import { render } from 'vitest-browser-svelte';
import { newProject, type Project } from '../../src/engine/index.ts';
import { scores } from '../../src/export/index.ts';
import {
  decodeLink,
  encodeLink,
  FILE_ENDING,
  openDevice,
  readProject,
  writeProject,
} from '../../src/storage/index.ts';
import App from '../../src/ui/App.svelte';
import { Library } from '../../src/ui/library/library.svelte.ts';
import type { Preset, StoragePort } from '../../src/ui/ports.ts';
import { Session } from '../../src/ui/session.svelte.ts';
import { FakePlayer } from './harness/player.ts';
import { wrong } from './everybody.ts';
import { chart, openSheet } from './open.ts';
import { eventually } from '../helpers/eventually.ts';

const name = 'test-library-page';
const devices: StoragePort[] = [];
const exchange = {
  write: writeProject,
  read: readProject,
  link: encodeLink,
  readLink: decodeLink,
  ending: FILE_ENDING,
};
const ready: readonly Preset[] = [
  {
    id: 'ready',
    title: 'A ready-made vamp',
    sentence: 'Stay.',
    project: chart('Ab7alt |', { title: 'A ready-made vamp' }),
  },
];

/** A page as a visit makes it: with the chart that lay there, else the first ready-made one. */
async function visit() {
  const device = openDevice({ name });
  devices.push(device);
  const last = await device.last();
  const lying = last.ok ? last.value : null;
  const session: Session = new Session({
    player: new FakePlayer(),
    presets: ready,
    project: lying?.project ?? { ...ready[0]!.project, id: 'first' },
    keep: (changed) => library.keep(changed),
    exchange,
    scores,
  });
  const library = new Library(session, device, lying?.inLibrary ?? false);
  const titles = async () => {
    await device.settle();
    await library.refresh();
    return library.entries.map(({ title }) => title);
  };
  return { device, session, library, titles };
}

/** The same with the whole page, its charts open. */
async function look() {
  await page.viewport(1280, 900);
  const there = await visit();
  const screen = await render(App, { session: there.session, library: there.library });
  await openSheet({ screen }, 'Charts');
  return { ...there, screen };
}

afterEach(async () => {
  vi.restoreAllMocks();
  await Promise.all(devices.splice(0).map((device) => device.close()));
  await new Promise((resolve) => {
    indexedDB.deleteDatabase(name).onsuccess = resolve;
  });
});

describe('the library', () => {
  it('takes a ready-made chart in with its first change, not before', async () => {
    const one = await visit();
    one.library.openReady(ready[0]!);
    expect(await one.titles()).toEqual([]);
    one.session.setTempo(99);
    expect(await one.titles()).toEqual(['A ready-made vamp']);
  });

  it('lets the next visit begin with a ready-made chart that was only looked at', async () => {
    const one = await visit();
    one.library.begin();
    await one.device.close();
    const next = await visit();
    expect(next.session.project.title).toBe('Untitled');
    expect(await next.titles()).toEqual([]);
    next.session.rename('Mine');
    expect(await next.titles()).toEqual(['Mine']);
  });

  it('opens a chart as a step that undo takes back, without losing either', async () => {
    const { session, library, titles } = await visit();
    session.rename('First');
    await titles();
    library.begin();
    session.rename('Second');
    await titles();
    const first = library.entries.find(({ title }) => title === 'First')!;
    await library.open(first.id);
    expect(session.project.title).toBe('First');
    session.undo();
    expect(session.project.title).toBe('Second');
    expect(await titles()).toHaveLength(2);
  });

  it('says how a removed chart comes back, and brings it back to where it was', async () => {
    const { session, library, titles } = await visit();
    session.rename('Mine');
    await titles();
    await library.remove(session.project.id);
    expect(session.project.title).toBe('A ready-made vamp');
    expect(await titles()).toEqual([]);
    expect(library.removed.map(({ title }) => title)).toEqual(['Mine']);
    session.notice!.answer!.run();
    await eventually(() => expect(session.project.title).toBe('Mine'));
    expect(await titles()).toEqual(['Mine']);
  });

  it('renames, tags and copies charts that are not open', async () => {
    const { session, library, titles } = await visit();
    session.rename('First');
    const { id } = session.project;
    library.begin();
    await library.rename(id, 'Renamed');
    await library.tag(id, ['lesson']);
    expect(await titles()).toEqual(['Renamed']);
    expect(library.entries[0]!.tags).toEqual(['lesson']);
    expect(session.project.title).toBe('Untitled');
    await library.duplicate(id);
    expect(session.project.title).toBe('Renamed (copy)');
    expect(await titles()).toEqual(['Renamed (copy)', 'Renamed']);
    await library.open(id);
    session.rename('Changed after that');
    expect((await titles()).sort()).toEqual(['Changed after that', 'Renamed (copy)']);
  });

  it('goes back to a version as a step that undo takes back, and keeps what stood before', async () => {
    const { session, library, titles } = await visit();
    session.type('Dm7 | G7 | C |');
    await titles();
    const { id } = session.project;
    await library.keepVersion(id, 'Plain');
    session.type('Dm7 | G7alt | C |');
    await titles();
    const [version] = await library.versions(id);
    await library.goBack((await library.version(version!.id))!);
    expect([session.text, session.project.id]).toEqual(['Dm7 | G7 | C |', id]);
    const texts = await Promise.all((await library.versions(id)).map((one) => library.version(one.id)));
    expect(texts.map((project) => project!.text)).toEqual(['Dm7 | G7alt | C |', 'Dm7 | G7 | C |']);
    session.undo();
    expect(session.text).toBe('Dm7 | G7alt | C |');
  });
});

describe('what comes from outside', () => {
  const sent = chart('Em7b5 | A7alt | Dm7 |', { title: 'Sent', tags: ['lesson'] });

  it('by link becomes a chart of the library, and the one in work stays', async () => {
    const { session, library, titles } = await visit();
    session.type('Dm7 | G7 |');
    session.rename('Mine');
    await library.openLink(`#${await encodeLink(sent)}`);
    expect(session.project).toMatchObject({ title: 'Sent', text: sent.text, tags: ['lesson'] });
    expect((await titles()).sort()).toEqual(['Mine', 'Sent']);
    session.undo();
    expect(session.text).toBe('Dm7 | G7 |');
    await library.openLink(await encodeLink(sent));
    await library.openLink(await encodeLink(sent));
    expect((await titles()).sort()).toEqual(['Mine', 'Sent']);
  });

  it('broken leaves everything as it is and says what to do', async () => {
    const { session, library, titles } = await visit();
    session.rename('Mine');
    const before = session.project;
    expect(await library.openLink('#1.%%%')).toBe(false);
    expect(session.notice?.text).toMatch(/no chart.*once more/);
    expect(session.project).toBe(before);
    expect(await library.openLink(`#2.${(await encodeLink(sent)).slice(2)}`)).toBe(true);
    expect(session.notice?.text).toMatch(/newer version/);
    expect((await titles()).sort()).toEqual(['Mine', 'Sent']);
  });

  it('as a file dropped on the page opens: a chart, or a whole library', async () => {
    const { library, session, titles, screen } = await look();
    const drop = (text: string, file = 'chart.json') => {
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File([text], file));
      const target = screen.container.querySelector('main')!;
      for (const type of ['dragenter', 'dragover', 'drop']) {
        target.dispatchEvent(new DragEvent(type, { dataTransfer, bubbles: true, cancelable: true }));
      }
    };
    drop(writeProject(sent));
    await eventually(() => expect(session.project.title).toBe('Sent'));
    const backup = (await library.backup(false))!;
    await library.remove(session.project.id);
    expect(await titles()).toEqual([]);
    drop(backup);
    await expect.element(screen.getByText(/1 chart came in/)).toBeInTheDocument();
    expect(await titles()).toEqual(['Sent']);
    drop(
      '<score-partwise><part id="P1"><measure><harmony><root><root-step>F</root-step></root><kind>dominant</kind></harmony></measure></part></score-partwise>',
      'Lesson.musicxml',
    );
    await eventually(() => expect(session.text).toBe('| F7 |'));
    expect((await titles()).toSorted()).toEqual(['Lesson', 'Sent']);
    drop('no chart at all');
    await expect.element(screen.getByText(/Fetch or save the file once more/)).toBeInTheDocument();
  });

  it('opens by its link alone where the page has moved', async () => {
    const { screen, session } = await look();
    session.open({ ...sent, id: '' });
    await openSheet({ screen }, 'Files');
    await screen.getByRole('button', { name: 'A link' }).click();
    const field = screen.getByLabelText(/needs no server/);
    await expect.element(field).toHaveValue(`${location.href.split('#')[0]!}#${await encodeLink(sent)}`);
    await expect.element(screen.getByRole('img', { name: /as a code/ }).first()).toBeVisible();
    session.type(
      Array.from({ length: 900 }, (_, i) => `${'ABCDEFG'[(i * i) % 7]!}${(i * 7919) % 97}`).join(' '),
    );
    await expect.element(screen.getByText(/too long for a code/)).toBeVisible();
  });
});

describe('on the page', () => {
  it('teaches while it is empty, and finds charts by title, tag and chord', async () => {
    const { screen, session, library, titles } = await look();
    await screen.getByRole('radio', { name: 'Mine' }).click({ force: true });
    await expect.element(screen.getByText(/from its first change on it is kept/)).toBeVisible();
    const add = async (project: Partial<Project>) => {
      session.open(newProject(project));
      await titles();
    };
    await add({ title: 'Étude', text: 'Dm7 | B♭7alt |', tags: ['lesson'] });
    await add({ title: 'Blues', text: 'F7 |', tags: ['band'] });
    const field = screen.getByRole('searchbox', { name: 'Find a chart' });
    for (const [wanted, found] of [
      ['etude', 'Étude'],
      ['bb7alt', 'Étude'],
      ['band blues', 'Blues'],
    ] as const) {
      await field.fill(wanted);
      const shown = screen.container.querySelectorAll('.chart strong');
      expect([...shown].map((one) => one.textContent)).toEqual([found]);
    }
    await field.fill('vamp');
    await expect.element(screen.getByText('A ready-made vamp', { exact: true })).toBeVisible();
    await field.fill('nothing like it');
    await expect.element(screen.getByText(/No chart is called that/)).toBeVisible();
    await field.fill('');
    await screen.getByRole('button', { name: 'lesson', exact: true }).click();
    expect(screen.container.querySelectorAll('.chart')).toHaveLength(1);
    expect(library.entries).toHaveLength(2);
  });

  it('compares a version in words before one goes back to it', async () => {
    const { screen, session, library, titles } = await look();
    session.rename('Mine');
    session.type('Dm7 | G7 | C |');
    await titles();
    await library.keepVersion(session.project.id, 'Plain');
    session.type('Dm7 | G7alt | C | A7 |');
    session.setTempo(77);
    await titles();
    await screen.getByRole('radio', { name: 'Mine' }).click({ force: true });
    await screen.getByRole('button', { name: 'More for Mine' }).click();
    await screen.getByRole('button', { name: 'Versions' }).click();
    await screen.getByRole('button', { name: /^Plain/ }).click();
    await expect.element(screen.getByText('Bar 2 was G7; it is G7alt now.')).toBeVisible();
    await expect.element(screen.getByText('1 bar has come since.')).toBeVisible();
    await expect.element(screen.getByText('The tempo was 120.')).toBeVisible();
    await screen.getByRole('button', { name: 'Go back to it' }).click();
    await eventually(() => expect(session.text).toBe('Dm7 | G7 | C |'));
  });

  it('a set has its charts in the order of the lesson, and every change can be taken back', async () => {
    const { screen, session, library, titles } = await look();
    for (const title of ['One', 'Two']) {
      session.open(newProject({ title, text: 'C7' }));
      await titles();
    }
    await screen.getByRole('radio', { name: 'Sets' }).click({ force: true });
    await screen.getByRole('button', { name: 'Begin a set' }).click();
    for (const title of ['Two', 'One']) {
      await screen.getByLabelText('Put in a chart').selectOptions(title);
      await expect.element(screen.getByRole('listitem').filter({ hasText: title })).toBeVisible();
    }
    const order = () =>
      [...screen.container.querySelectorAll('ol .chart')].map((one) => one.textContent.trim());
    expect(order()).toEqual(['1 Two', '2 One']);
    await screen.getByRole('button', { name: 'One earlier' }).click();
    await eventually(() => expect(order()).toEqual(['1 One', '2 Two']));
    await screen.getByRole('button', { name: 'Take One out of the set' }).click();
    await eventually(() => expect(order()).toEqual(['1 Two']));
    await screen.getByRole('button', { name: 'Take back', exact: true }).click();
    await eventually(() => expect(order()).toEqual(['1 One', '2 Two']));
    await screen.getByRole('button', { name: '1 One' }).click();
    await eventually(() => expect(session.project.title).toBe('One'));
    expect(library.sets.all).toHaveLength(1);
  });

  it('a set is played through by key, charts that are gone passed over, and its ends are said', async () => {
    const { session, library, titles } = await look();
    const ids: string[] = [];
    for (const title of ['One', 'Two', 'Three']) {
      session.open(newProject({ title, text: 'C7' }));
      await titles();
      ids.push(session.project.id);
    }
    await userEvent.keyboard('{Escape}]');
    await eventually(() => expect(session.notice?.text).toMatch(/stands in no set/));
    await library.sets.add('Tuesday', [ids[2]!, 'gone', ids[0]!]);
    await userEvent.keyboard(']');
    await eventually(() => expect(session.notice?.text).toBe('One: 3 of 3 in Tuesday.'));
    expect(session.project.title).toBe('One');
    await userEvent.keyboard(']');
    await eventually(() => expect(session.notice?.text).toBe('This is the last chart of the set Tuesday.'));
    await library.sets.add('Friday', [ids[1]!, ids[0]!]);
    await userEvent.keyboard('[[');
    await eventually(() => expect(session.project.title, 'the set it was in stays').toBe('Three'));
  });

  it('says calmly that all is kept, and trouble with its remedy', async () => {
    const { screen, session, device } = await look();
    const persist = vi.spyOn(navigator.storage, 'persist').mockResolvedValue(true);
    await expect.element(screen.getByText(/kept on this device/)).toBeVisible();
    expect(persist).not.toHaveBeenCalled();
    session.rename('Mine');
    await eventually(() => expect(persist).toHaveBeenCalledTimes(1));
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('full', 'QuotaExceededError');
    });
    session.rename('Mine, changed');
    await device.settle();
    await expect.element(screen.getByText(/no room left/).first()).toBeVisible();
    vi.restoreAllMocks();
    await device.settle();
    await expect.element(screen.getByText(/kept on this device/)).toBeVisible();
  });

  it('warns before the room runs out', async () => {
    const { session, device } = await visit();
    vi.spyOn(navigator.storage, 'estimate').mockResolvedValue({ usage: 95_000_000, quota: 100_000_000 });
    session.rename('Mine');
    await device.settle();
    await eventually(() => expect(session.notice?.text).toMatch(/nearly full: 5 MB are left/));
  });

  it('is walked by keyboard: to a chart, its name and back', async () => {
    const { screen, session, titles } = await look();
    session.open(newProject({ title: 'One', text: 'C7' }));
    await titles();
    await screen.getByRole('radio', { name: 'Mine' }).click({ force: true });
    (screen.getByRole('button', { name: 'More for One' }).element() as HTMLElement).focus();
    await userEvent.keyboard('{Enter}{Tab}');
    expect(document.activeElement).toHaveProperty('value', 'One');
    await userEvent.keyboard('{Control>}a{/Control}Renamed{Tab}');
    await eventually(() => expect(session.project.title).toBe('Renamed'));
  });
});

describe('by day and by night', { timeout: 60_000 }, () => {
  it.each([
    [360, 740],
    [820, 1180],
    [1440, 900],
  ] as const)('everybody can use the library at %i by %i', async (width, height) => {
    const { screen, session, library, titles } = await look();
    await page.viewport(width, height);
    const long =
      'A title that is much longer than any panel is wide, and a word like Unterweisungsvortragsstück';
    for (const title of [long, 'Two']) {
      session.open(newProject({ title, text: 'Dm7 | G7alt | C | '.repeat(12), tags: ['lesson', 'a tag'] }));
      await titles();
    }
    const [{ id } = { id: '' }] = library.entries;
    await library.keepVersion(id, 'Before Tuesday');
    await library.remove(library.entries[1]!.id);
    await library.takeBack(library.removed[0]!.id);
    await library.sets.add('Tuesday', [id, 'gone']);
    await screen.getByRole('radio', { name: 'Mine' }).click({ force: true });
    await screen.getByRole('button', { name: 'More for Two' }).click();
    await screen.getByRole('button', { name: 'Versions' }).click();
    await screen.getByRole('button', { name: /^Before Tuesday/ }).click();
    await screen.getByText('The whole library in one file').click();
    expect(await wrong(session)).toEqual([]);
    await screen.getByRole('radio', { name: 'Sets' }).click({ force: true });
    await screen.getByRole('button', { name: /^Tuesday/ }).click();
    expect(await wrong(session)).toEqual([]);
    await openSheet({ screen }, 'Files');
    await screen.getByRole('button', { name: 'A link' }).click();
    await expect.element(screen.getByRole('img', { name: /as a code/ }).first()).toBeInTheDocument();
    expect(await wrong(session)).toEqual([]);
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(width);
    delete document.documentElement.dataset['theme'];
  });
});
