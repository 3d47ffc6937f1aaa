import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { writeProject } from '../../src/storage/file.ts';
import { chart, closeTabs, freshName, got, tab, textsIn } from '../helpers/device.ts';
import { eventually } from '../helpers/eventually.ts';

const DAY = 24 * 60 * 60 * 1000;

afterEach(async () => {
  await closeTabs();
  vi.unstubAllGlobals();
});

/** The library as layout 1 of the database had it. */
async function libraryOfLayout1(name: string): Promise<void> {
  const db = await openDB(name, 1, {
    upgrade(made) {
      made.createObjectStore('charts', { keyPath: 'id' });
      made.createObjectStore('desk');
    },
  });
  for (const [id, text, removed] of [
    ['a', 'C7alt', null],
    ['b', 'Dm7 | G7', null],
    ['c', 'thrown away', 5],
  ] as const) {
    const file = writeProject(chart(id, text));
    await db.put('charts', { id, revision: 3, saved: 7, title: 'Study', tags: [], format: 1, file, removed });
  }
  await db.put('desk', 'b', 'last');
  db.close();
}

it('keeps what is still being written when it is closed, though no other tab hears of it', async () => {
  const name = freshName();
  const { port } = tab(name);
  await port.takes.list();
  const adding = port.takes.add({ bars: 4 }, 'a', new Blob([new Uint8Array(100_000)]));
  await port.close();
  got(await adding);
  expect(got(await tab(name).port.takes.list())).toMatchObject([{ chart: 'a', data: { bars: 4 } }]);
});

describe('a library of the first layout', () => {
  it('opens with every chart, the last one worked on and what can be taken back', async () => {
    const name = freshName();
    await libraryOfLayout1(name);
    const { port, news } = tab(name, () => 10);
    expect(got(await port.last())).toEqual({
      project: chart('b', 'Dm7 | G7'),
      notices: [],
      inLibrary: true,
    });
    expect(await textsIn(port)).toEqual(['C7alt', 'Dm7 | G7']);
    expect(got(await port.removed()).map(({ id }) => id)).toEqual(['c']);
    expect(news).toEqual([]);
  });

  it('keeps what stood in it as the first version when it is changed', async () => {
    const name = freshName();
    await libraryOfLayout1(name);
    const { port } = tab(name, () => DAY);
    await port.get('a');
    expect(got(await port.put(chart('a', 'F7alt')))).toEqual({ id: 'a', beside: false });
    const [version] = got(await port.versions('a'));
    expect(got(await port.version(version!.id)).project.text).toBe('C7alt');
  });
});

describe.each([
  ['in the database', false],
  ['in memory', true],
])('beside the charts, %s,', (_, inMemory) => {
  function open(now?: () => number) {
    if (inMemory) vi.stubGlobal('indexedDB', undefined);
    return tab(freshName(), now).port;
  }

  it('plans, the log, sets and takes are kept apart, earliest first', async () => {
    let now = 1;
    const port = open(() => now++);
    const plan = got(await port.plans.add({ steps: [1] }, 'a'));
    await port.log.add({ minutes: 5 });
    await port.log.add({ minutes: 6 });
    await port.sets.add({ name: 'Tuesday', charts: ['a'] });
    expect(plan).toEqual({ id: plan.id, chart: 'a', at: plan.at, data: { steps: [1] } });
    expect(got(await port.plans.list())).toEqual([plan]);
    expect(got(await port.log.list()).map(({ data }) => data)).toEqual([{ minutes: 5 }, { minutes: 6 }]);
    expect(got(await port.takes.list())).toEqual([]);
    await port.plans.put({ ...plan, data: { steps: [1, 2] } });
    expect(got(await port.plans.list())).toEqual([{ ...plan, data: { steps: [1, 2] } }]);
  });

  it('a take has its sound', async () => {
    const port = open();
    const take = got(await port.takes.add({ tempo: 120 }, 'a', new Blob(['sound'], { type: 'audio/webm' })));
    const sound = got(await port.takes.sound(take.id));
    expect([await sound!.text(), sound!.type]).toEqual(['sound', 'audio/webm']);
    expect(got(await port.takes.sound('another'))).toBeNull();
  });

  it('what is removed can be taken back', async () => {
    const port = open();
    const { id } = got(await port.plans.add({ steps: [] }));
    await port.plans.remove(id);
    expect(got(await port.plans.list())).toEqual([]);
    expect(got(await port.plans.removed()).map((plan) => plan.id)).toEqual([id]);
    await port.plans.takeBack(id);
    expect(got(await port.plans.list())).toHaveLength(1);
    expect(await port.plans.remove('another')).toMatchObject({ ok: false });
  });

  it('a recording without room is refused before the charts are in need', async () => {
    const estimate = vi.fn().mockResolvedValue({ usage: 90_000_000, quota: 100_000_000 });
    vi.stubGlobal('navigator', { storage: { estimate } });
    const port = open();
    const refused = await port.takes.add({}, 'a', new Blob([new Uint8Array(5_000_001)]));
    expect(refused).toMatchObject({ error: { remedy: expect.stringMatching(/file now/) as string } });
    expect(got(await port.takes.list())).toEqual([]);
    expect(await port.takes.add({}, 'a', new Blob([new Uint8Array(4_999_999)]))).toMatchObject({ ok: true });
  });
});

describe('what was removed', () => {
  it('is forgotten: a take after a day, a plan after thirty', async () => {
    const name = freshName();
    let now = 0;
    const { port } = tab(name, () => now);
    const take = got(await port.takes.add({}, 'a', new Blob(['sound'])));
    const plan = got(await port.plans.add({}));
    await port.takes.remove(take.id);
    await port.plans.remove(plan.id);
    now = DAY + 1;
    const later = tab(name, () => now).port;
    expect(got(await later.takes.removed())).toEqual([]);
    expect(got(await later.takes.sound(take.id))).toBeNull();
    expect(got(await later.plans.removed())).toHaveLength(1);
    now = 30 * DAY + 1;
    expect(got(await tab(name, () => now).port.plans.removed())).toEqual([]);
  });
});

it('another tab hears that a set was changed', async () => {
  const name = freshName();
  const [one, other] = [tab(name), tab(name)];
  await one.port.sets.add({ name: 'Tuesday', charts: [] });
  await eventually(() => expect(other.news).toContainEqual({ type: 'records-elsewhere', kind: 'sets' }));
});

describe('the chart that lies there', () => {
  it('without being in the library is there at the next visit, and still not in it', async () => {
    const name = freshName();
    const { port } = tab(name);
    port.lay(chart('new', 'C7alt'));
    expect(got(await port.last())).toMatchObject({ project: chart('new', 'C7alt'), inLibrary: false });
    const later = tab(name).port;
    expect(got(await later.last())).toMatchObject({ project: chart('new', 'C7alt'), inLibrary: false });
    expect(got(await later.list())).toEqual([]);
    await later.put(chart('new', 'F7alt'));
    expect(got(await tab(name).port.last())).toMatchObject({ project: { text: 'F7alt' }, inLibrary: true });
  });

  it('gives way to the next one that is opened', async () => {
    const name = freshName();
    const { port } = tab(name);
    await port.put(chart('a', 'C7alt'));
    port.lay(chart('new', 'F7alt'));
    await port.get('a');
    expect(got(await tab(name).port.last())).toMatchObject({ project: { id: 'a' }, inLibrary: true });
  });
});

it('a chart that is there already is found, whatever its id', async () => {
  const { port } = tab(freshName());
  await port.put(chart('a', 'C7alt'));
  expect(got(await port.find(chart('', 'C7alt')))).toBe('a');
  expect(got(await port.find(chart('a', 'C7')))).toBeNull();
  await port.remove('a');
  expect(got(await port.find(chart('', 'C7alt')))).toBeNull();
});

describe('everything in one file', () => {
  it('has versions, sets, plans and the log, takes where asked for, and comes in once', async () => {
    const { port } = tab(freshName());
    await port.put(chart('a', 'C7'));
    await port.keepVersion('a', 'before');
    await port.put(chart('a', 'C7alt'));
    await port.sets.add({ name: 'Tuesday', charts: ['a'] });
    await port.plans.add({ steps: [1] }, 'a');
    await port.log.add({ minutes: 5 }, 'a');
    const sound = Uint8Array.from({ length: 100_000 }, (_, i) => i % 251);
    await port.takes.add({ tempo: 90 }, 'a', new Blob([sound], { type: 'audio/webm' }));
    expect(got(await port.backup())).not.toContain('audio/webm');

    const text = got(await port.backup({ takes: true, preferences: { theme: 'night' } }));
    const other = tab(freshName()).port;
    const counts = { added: 1, same: 0, beside: 0, records: 5, preferences: { theme: 'night' } };
    expect(got(await other.restore(text))).toMatchObject(counts);
    const [take] = got(await other.takes.list());
    const came = got(await other.takes.sound(take!.id));
    expect(came!.type).toBe('audio/webm');
    expect(new Uint8Array(await came!.arrayBuffer())).toEqual(sound);
    expect(got(await other.backup({ takes: true, preferences: { theme: 'night' } }))).toBe(text);
    expect(got(await other.restore(text))).toMatchObject({ added: 0, same: 1, records: 0 });
  });

  it('keeps sets, plans and versions with their charts where a chart comes in under another id', async () => {
    const { port } = tab(freshName());
    await port.put(chart('a', 'from afar'));
    await port.keepVersion('a', 'first');
    await port.put(chart('a', 'from afar, changed'));
    await port.sets.add({ name: 'Tuesday', charts: ['a', 'gone'] });
    await port.plans.add({ steps: [] }, 'a');
    const text = got(await port.backup());
    const here = tab(freshName()).port;
    await here.put(chart('a', 'mine'));
    expect(got(await here.restore(text))).toMatchObject({ beside: 1, records: 3 });
    const id = got(await here.list()).find((entry) => entry.text === 'from afar, changed')!.id;
    expect(id).not.toBe('a');
    expect(got(await here.sets.list())[0]!.data).toEqual({ name: 'Tuesday', charts: [id, 'gone'] });
    expect(got(await here.plans.list())[0]!.chart).toBe(id);
    expect(got(await here.versions(id)).map(({ name }) => name)).toEqual(['first']);
    expect(got(await here.versions('a'))).toEqual([]);
  });

  it('hurt beside the charts says what was left out', async () => {
    const { port } = tab(freshName());
    const text = JSON.stringify({
      'vampwright-library': 1,
      charts: [],
      versions: [{ of: 'a' }, 7],
      plans: [{ data: [] }, { data: { steps: [] }, id: '', at: 'x' }],
      takes: [{ data: {}, sound: '%%%', type: 'text/html' }],
      log: 'text',
      preferences: 'text',
    });
    const came = got(await port.restore(text));
    expect(came).toMatchObject({ records: 2, preferences: null });
    expect(came.notices.map(({ place }) => place)).toEqual(['version 1', 'version 2', 'plans, item 1']);
  });
});
