import { afterEach, describe, expect, it, vi } from 'vitest';
import { newProject, type Project } from '../../src/engine/index.ts';
import { decodeLink, encodeLink, openDevice } from '../../src/storage/index.ts';
import { readPresets } from '../../src/storage/presets.ts';
import { toBase64Url } from '../../src/storage/base64url.ts';
import { deflate, inflate } from '../../src/storage/squeeze.ts';
import type { StorageNews, StoragePort } from '../../src/ui/ports.ts';
import { eventually } from '../helpers/eventually.ts';

/** The same as the tests in Node, where a real browser's database, channel and streams may differ. */
const name = 'test-library';
const open: StoragePort[] = [];

function tab() {
  const port = openDevice({ name });
  open.push(port);
  const news: StorageNews[] = [];
  port.watch((item) => news.push(item));
  return { port, news };
}

const chart = (id: string, text: string): Project => newProject({ id, title: 'Study', text });

async function textsIn(port: StoragePort): Promise<string[]> {
  const list = await port.list();
  if (!list.ok) throw new Error(list.error.message);
  const charts = await Promise.all(list.value.map(({ id }) => port.get(id)));
  return charts.map((opened) => (opened.ok ? opened.value.project.text : opened.error.message)).sort();
}

afterEach(async () => {
  vi.restoreAllMocks();
  await Promise.all(open.splice(0).map((port) => port.close()));
  await new Promise((resolve) => {
    indexedDB.deleteDatabase(name).onsuccess = resolve;
  });
});

describe('the library in the browser', () => {
  it('keeps what was typed and finds it again', async () => {
    const { port, news } = tab();
    port.keep(chart('a', 'C7'));
    port.keep(chart('a', 'C7alt'));
    await eventually(() => expect(news.at(-1)).toEqual({ type: 'saved' }));
    const last = await tab().port.last();
    expect(last.ok && last.value?.project).toEqual(chart('a', 'C7alt'));
  });

  it('keeps both when two tabs change one chart, and each hears of the other', async () => {
    const [one, other] = [tab(), tab()];
    await one.port.put(chart('a', 'start'));
    await eventually(() => expect(other.news).toContainEqual({ type: 'changed-elsewhere', id: 'a' }));
    await other.port.get('a');
    const saves = await Promise.all([one.port.put(chart('a', 'one')), other.port.put(chart('a', 'other'))]);
    expect(saves.map((saved) => saved.ok && saved.value.beside).sort()).toEqual([false, true]);
    expect(await textsIn(one.port)).toEqual(['one', 'other']);
  });

  it('saves at once when the page is put away', async () => {
    const { port, news } = tab();
    await port.list();
    port.keep(chart('a', 'C7alt'));
    vi.spyOn(document, 'visibilityState', 'get').mockReturnValue('hidden');
    document.dispatchEvent(new Event('visibilitychange'));
    await eventually(() => expect(news.at(-1)).toEqual({ type: 'saved' }));
    expect(await textsIn(port)).toEqual(['C7alt']);
  });

  it('says how much room there is, and whether the browser promises to keep it', async () => {
    const { port } = tab();
    const room = await port.room();
    expect(room!.total).toBeGreaterThan(room!.used);
    expect(room!.low).toBe(false);
    vi.spyOn(navigator.storage, 'persist').mockResolvedValueOnce(true).mockRejectedValueOnce(new Error('no'));
    expect(await port.persist()).toBe(true);
    expect(await port.persist()).toBe(false);
  });

  it('says so, with the chart kept on the page, when the device has no room', async () => {
    const { port, news } = tab();
    await port.list();
    vi.spyOn(IDBObjectStore.prototype, 'put').mockImplementation(() => {
      throw new DOMException('full', 'QuotaExceededError');
    });
    port.keep(chart('a', 'C7alt'));
    expect(await port.settle()).toBe(false);
    expect(news.find((item) => item.type === 'failed')?.trouble.message).toMatch(/no room/);
    vi.restoreAllMocks();
    expect(await port.settle()).toBe(true);
  });
});

describe('links in the browser', () => {
  it('carry every chart that comes with the app', async () => {
    for (const { project } of readPresets()) {
      const opened = await decodeLink(await encodeLink(project));
      expect(opened).toEqual({ ok: true, value: { project, notices: [] } });
    }
  });

  it('that break off give the beginning', async () => {
    const project = readPresets().at(-1)!.project;
    const link = await encodeLink(project);
    const opened = await decodeLink(link.slice(0, -40));
    expect(opened.ok && opened.value.notices[0]?.message).toMatch(/breaks off/);
    expect(opened.ok && opened.value.project.text).toBe(project.text);
  });

  it('that would unpack to fifty million letters are given up early', async () => {
    const body = await deflate(new TextEncoder().encode(`{"c":"${' '.repeat(50_000_000)}"}`));
    expect((await inflate(body, 1_000_000)).end).toBe('too-large');
    expect(await decodeLink(`1.${toBase64Url(body)}`)).toMatchObject({
      ok: false,
      error: { message: expect.stringMatching(/more than a chart/) as string },
    });
  });
});
