import 'fake-indexeddb/auto';
import { openDB } from 'idb';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { KEPT_AFTER_REMOVAL_MS } from '../../src/storage/library.ts';
import type { StorageNews } from '../../src/ui/ports.ts';
import { chart, closeTabs, freshName, got, tab, textsIn } from '../helpers/device.ts';
import { eventually } from '../helpers/eventually.ts';

afterEach(async () => {
  vi.useRealTimers();
  vi.restoreAllMocks();
  await closeTabs();
  vi.unstubAllGlobals();
});

describe('the library', () => {
  it('has nothing on a first visit', async () => {
    const { port } = tab(freshName());
    expect(got(await port.list())).toEqual([]);
    expect(got(await port.last())).toBeNull();
  });

  it('gives back what was put, latest first, also to a page loaded later', async () => {
    const name = freshName();
    let now = 1000;
    const { port } = tab(name, () => now);
    await port.put(chart('a', 'C7alt', 'Vamp'));
    now = 2000;
    await port.put({ ...chart('b', 'Dm7 | G7', 'Cadence'), tags: ['lesson'] });
    await port.close();
    const later = tab(name).port;
    expect(got(await later.list())).toEqual([
      { id: 'b', title: 'Cadence', tags: ['lesson'], saved: 2000, text: 'Dm7 | G7' },
      { id: 'a', title: 'Vamp', tags: [], saved: 1000, text: 'C7alt' },
    ]);
    expect(got(await later.get('a'))).toEqual({ project: chart('a', 'C7alt', 'Vamp'), notices: [] });
  });

  it('knows what was last worked on: opened or changed', async () => {
    const name = freshName();
    const { port } = tab(name);
    await port.put(chart('a', 'C7alt'));
    await port.put(chart('b', 'F7alt'));
    expect(got(await port.last())?.project.id).toBe('b');
    await port.get('a');
    expect(got(await tab(name).port.last())?.project.id).toBe('a');
  });

  it('says what to do when a chart is gone', async () => {
    const result = await tab(freshName()).port.get('never');
    expect(result).toMatchObject({
      ok: false,
      error: { message: expect.stringMatching(/no longer/) as string },
    });
  });

  it('takes back for thirty days what was removed, and then forgets it', async () => {
    const name = freshName();
    let now = 0;
    const { port } = tab(name, () => now);
    await port.put(chart('a', 'C7alt'));
    await port.remove('a');
    expect(got(await port.list())).toEqual([]);
    expect(got(await port.last())).toBeNull();
    expect(got(await port.removed()).map(({ id }) => id)).toEqual(['a']);
    await port.takeBack('a');
    expect(await textsIn(port)).toEqual(['C7alt']);
    await port.remove('a');
    now = KEPT_AFTER_REMOVAL_MS;
    expect(got(await tab(name, () => now).port.removed())).toHaveLength(1);
    now = KEPT_AFTER_REMOVAL_MS + 1;
    expect(got(await tab(name, () => now).port.removed())).toEqual([]);
  });
});

describe('keeping while working', () => {
  it('saves the last change within a second, and once for a run of changes', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    const name = freshName();
    const { port, news } = tab(name);
    await port.list();
    for (let length = 1; length <= 5; length++) port.keep(chart('a', 'C7alt'.slice(0, length)));
    vi.advanceTimersByTime(999);
    vi.useRealTimers();
    await eventually(() => expect(news.at(-1)).toEqual({ type: 'saved' }));
    expect(await textsIn(tab(name).port)).toEqual(['C7alt']);
    expect(news.filter(({ type }) => type === 'saved')).toHaveLength(1);
  });

  it('goes on saving while typing never rests', async () => {
    vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
    const { port, news } = tab(freshName());
    await port.list();
    for (let times = 0; times < 20; times++) {
      port.keep(chart('a', `${times}`));
      vi.advanceTimersByTime(100);
      for (let breath = 0; breath < 10; breath++) await port.list();
    }
    const saves = news.filter(({ type }) => type === 'saved').length;
    expect(saves).toBeGreaterThanOrEqual(2);
    expect(saves).toBeLessThan(10);
  });

  it('keeps charts apart by their id, and one without an id as one chart', async () => {
    const { port } = tab(freshName());
    port.keep(chart('a', 'first'));
    port.keep(chart('b', 'second'));
    port.keep(chart('', 'third'));
    port.keep(chart('', 'third, changed'));
    expect(await port.settle()).toBe(true);
    port.keep(chart('', 'third, changed again'));
    await port.settle();
    expect(await textsIn(port)).toEqual(['first', 'second', 'third, changed again']);
  });

  it('saves what waits when it is closed', async () => {
    const name = freshName();
    const { port } = tab(name);
    port.keep(chart('a', 'C7alt'));
    await port.close();
    expect(await textsIn(tab(name).port)).toEqual(['C7alt']);
  });

  it('never takes its own two saves for those of another tab', async () => {
    const { port, news } = tab(freshName());
    port.keep(chart('a', '1'));
    await Promise.all([port.put(chart('a', '2')), port.settle(), port.put(chart('a', '3'))]);
    expect(await textsIn(port)).toEqual(['3']);
    expect(news.map(({ type }) => type)).not.toContain('kept-both');
  });

  it('goes on trying to save what was to be saved at once and could not be', async () => {
    const { port } = tab(freshName());
    await port.list();
    const put = vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('no', 'QuotaExceededError');
    });
    expect(await port.put(chart('a', '1'))).toMatchObject({ ok: false });
    put.mockRestore();
    expect(await port.settle()).toBe(true);
    expect(await textsIn(port)).toEqual(['1']);
  });

  it('does not bring back a chart that was removed before its last change was saved', async () => {
    const { port } = tab(freshName());
    await port.put(chart('a', '1'));
    port.keep(chart('a', '2'));
    await port.remove('a');
    await port.settle();
    expect(got(await port.list())).toEqual([]);
  });
});

describe('two tabs', () => {
  it('hear of each other’s changes', async () => {
    const name = freshName();
    const [one, other] = [tab(name), tab(name)];
    await one.port.put(chart('a', '1'));
    await eventually(() => expect(other.news).toContainEqual({ type: 'changed-elsewhere', id: 'a' }));
    await other.port.get('a');
    expect(await other.port.put(chart('a', '2'))).toMatchObject({ value: { id: 'a', beside: false } });
  });

  it('that change the same chart lose neither version', async () => {
    const name = freshName();
    const [one, other] = [tab(name), tab(name)];
    await one.port.put(chart('a', 'start'));
    await other.port.get('a');
    await one.port.put(chart('a', 'by one'));
    const saved = got(await other.port.put(chart('a', 'by the other')));
    expect(saved.beside).toBe(true);
    expect(await textsIn(tab(name).port)).toEqual(['by one', 'by the other']);
    expect(other.news).toContainEqual({ type: 'kept-both', id: 'a', as: saved.id });
    // Both go on with their own, without a third.
    await other.port.put(chart('a', 'by the other, later'));
    await one.port.put(chart('a', 'by one, later'));
    expect(await textsIn(tab(name).port)).toEqual(['by one, later', 'by the other, later']);
  });

  it('that make the same change need no second copy', async () => {
    const name = freshName();
    const [one, other] = [tab(name), tab(name)];
    await one.port.put(chart('a', 'start'));
    await other.port.get('a');
    await one.port.put(chart('a', 'same'));
    expect(got(await other.port.put(chart('a', 'same')))).toEqual({ id: 'a', beside: false });
  });

  it('keep a chart that one has removed and the other goes on with', async () => {
    const name = freshName();
    const [one, other] = [tab(name), tab(name)];
    await one.port.put(chart('a', 'start'));
    await other.port.get('a');
    await one.port.remove('a');
    await other.port.put(chart('a', 'went on'));
    expect(await textsIn(tab(name).port)).toEqual(['went on']);
  });

  it('of which one is older leaves alone what the newer one has written', async () => {
    const name = freshName();
    const { port } = tab(name);
    await port.put(chart('a', 'old'));
    const db = await openDB(name);
    const row = (await db.get('charts', 'a')) as object;
    const file = '{"vampwright":2,"chart":["new"],"lights":"dim"}';
    await db.put('charts', { ...row, format: 2, file });
    const opened = got(await port.get('a'));
    expect(opened.notices[0]!.message).toMatch(/newer version/);
    const saved = got(await port.put({ ...opened.project, text: 'changed here' }));
    expect(saved.beside).toBe(true);
    expect(((await db.get('charts', 'a')) as { file: string }).file).toBe(file);
    db.close();
  });
});

describe('a device that makes trouble', () => {
  const failWith = (name: string) => {
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('no', name);
    });
  };

  it('without room says so with a remedy, keeps what waits, and saves it when there is room again', async () => {
    const name = freshName();
    const { port, news } = tab(name);
    await port.list();
    failWith('QuotaExceededError');
    port.keep(chart('a', 'C7alt'));
    expect(await port.settle()).toBe(false);
    const failed = news.find((item) => item.type === 'failed');
    expect(failed?.trouble.message).toMatch(/no room/);
    expect(failed?.trouble.remedy).toMatch(/file/);
    vi.restoreAllMocks();
    expect(await port.settle()).toBe(true);
    expect(await textsIn(tab(name).port)).toEqual(['C7alt']);
  });

  it('leaves the old version whole when a save fails', async () => {
    const name = freshName();
    const { port } = tab(name);
    await port.put(chart('a', 'old'));
    failWith('UnknownError');
    expect(await port.put(chart('a', 'new'))).toMatchObject({ ok: false });
    vi.restoreAllMocks();
    expect(await textsIn(tab(name).port)).toEqual(['old']);
    expect(await textsIn(port)).toEqual(['new']);
  });

  it('without a database keeps charts until the page is closed, and says so to whoever asks', async () => {
    vi.stubGlobal('indexedDB', undefined);
    const { port, news } = tab(freshName());
    port.keep(chart('a', 'C7alt'));
    await port.settle();
    expect(await textsIn(port)).toEqual(['C7alt']);
    const told = news.find((item) => item.type === 'temporary');
    expect(told?.trouble.remedy).toMatch(/file/);
    const late: StorageNews[] = [];
    port.watch((item) => late.push(item));
    expect(late).toEqual([told]);
  });

  it('that forbids the database, or holds one of a newer page, is told apart in words', async () => {
    const name = freshName();
    (await openDB(name, 99)).close();
    const newer = tab(name);
    expect(got(await newer.port.list())).toEqual([]);
    expect(newer.news[0]).toMatchObject({
      trouble: { message: expect.stringMatching(/newer version/) as string },
    });
    vi.spyOn(indexedDB, 'open').mockImplementation(() => {
      throw new DOMException('no', 'SecurityError');
    });
    const forbidden = tab(freshName());
    await forbidden.port.list();
    expect(forbidden.news[0]).toMatchObject({
      trouble: { message: expect.stringMatching(/keep nothing/) as string },
    });
  });

  it('whose connection was taken away opens it again', async () => {
    const { port } = tab(freshName());
    await port.put(chart('a', '1'));
    const closed = vi.spyOn(IDBDatabase.prototype, 'transaction').mockImplementationOnce(() => {
      throw new DOMException('closing', 'InvalidStateError');
    });
    await port.put(chart('a', '2'));
    expect(closed).toHaveBeenCalled();
    expect(await textsIn(port)).toEqual(['2']);
  });

  it('with a damaged chart opens the others, and says what it is', async () => {
    const name = freshName();
    const { port } = tab(name);
    await port.put(chart('a', '1'));
    await port.put(chart('b', '2'));
    const db = await openDB(name);
    await db.put('charts', { ...((await db.get('charts', 'a')) as object), file: '{"vampwri' });
    db.close();
    expect(got(await port.list())).toHaveLength(2);
    expect(await port.get('a')).toMatchObject({ ok: false });
    expect(got(await port.get('b')).project.text).toBe('2');
  });
});

describe('everything in one file', () => {
  it('goes out and comes in again, on another device, with every chart', async () => {
    const { port } = tab(freshName());
    await port.put(chart('a', 'C7alt'));
    await port.put({ ...chart('b', 'Dm7'), others: { lights: 'dim' } });
    await port.put(chart('c', 'thrown away'));
    await port.remove('c');
    const text = got(await port.backup());
    const other = tab(freshName()).port;
    expect(got(await other.restore(text))).toMatchObject({ added: 2, same: 0, beside: 0 });
    expect(await textsIn(other)).toEqual(['C7alt', 'Dm7']);
    expect(got(await other.get('b')).project.others).toEqual({ lights: 'dim' });
    expect(got(await other.backup())).toBe(text);
  });

  it('writes over nothing: what is the same stays one, what differs becomes two', async () => {
    const { port } = tab(freshName());
    await port.put(chart('a', 'same'));
    await port.put(chart('b', 'before'));
    const text = got(await port.backup());
    await port.put(chart('b', 'after'));
    expect(got(await port.restore(text))).toMatchObject({ added: 0, same: 1, beside: 1 });
    expect(await textsIn(port)).toEqual(['after', 'before', 'same']);
    expect(got(await port.restore(text))).toMatchObject({ added: 0, same: 2, beside: 0 });
  });

  it('hurt or strange is read as far as it goes', async () => {
    const { port } = tab(freshName());
    const charts = [
      { id: 'a', saved: 5, chart: { vampwright: 1, chart: ['C7'] } },
      { id: 7, saved: 'x', chart: '{"vampwright":1,"chart":["F7"]}' },
      { id: 'b', chart: { chart: ['no mark'] } },
      'text',
      null,
    ];
    const result = got(await port.restore(JSON.stringify({ 'vampwright-library': 2, charts })));
    expect(result.added).toBe(2);
    expect(result.notices.map(({ place }) => place)).toEqual(['the backup', 'chart 3', 'chart 4', 'chart 5']);
    for (const text of [
      '',
      '[]',
      '{}',
      '{"vampwright":1,"chart":[]}',
      '{"vampwright-library":1,"charts":{}}',
    ]) {
      expect(await port.restore(text), text).toMatchObject({ ok: false });
    }
  });

  it('keeps a damaged chart as text, so that it is not lost', async () => {
    const name = freshName();
    const { port } = tab(name);
    await port.put(chart('a', '1'));
    const db = await openDB(name);
    await db.put('charts', { ...((await db.get('charts', 'a')) as object), file: 'Dm7 | G7 in pieces' });
    db.close();
    expect(got(await port.backup())).toContain('Dm7 | G7 in pieces');
  });
});
