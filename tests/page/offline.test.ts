import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterEach, describe, expect, inject, it } from 'vitest';
import { writeWorker } from '../../src/tools/offline.mjs';
import { serve } from '../../src/tools/site.mjs';
import { arrived, visit } from '../helpers/page.ts';

const copies: { readonly top: string; readonly close: () => Promise<void> }[] = [];

/** The built app, served from a folder of its own that a test may change, until its host goes away. */
async function host() {
  const top = mkdtempSync(join(tmpdir(), 'vampwright-offline-'));
  const folder = join(top, 'deep/down');
  cpSync(inject('site').folder, folder, { recursive: true });
  const server = await serve(top, 5300);
  copies.push({ top, close: () => server.close().catch(() => undefined) });
  return { folder, address: `${server.address}deep/down/`, goAway: () => server.close() };
}

afterEach(async () => {
  for (const { top, close } of copies.splice(0)) {
    await close();
    rmSync(top, { recursive: true });
  }
});

const kept = (page: Page) =>
  page.evaluate(async () => {
    await navigator.serviceWorker.ready;
    const names = await caches.keys();
    const lists = await Promise.all(names.map(async (name) => (await caches.open(name)).keys()));
    return { versions: names.length, files: lists.at(-1)!.length };
  });

/** Loads the page again once a worker answers for it. */
async function waitUntilKept(page: Page) {
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null, null, { timeout: 30_000 });
}

const play = (page: Page) => page.getByRole('button', { name: 'Play', exact: true });

describe('with the network off', () => {
  it('the page opens, plays a chorus with its own sounds, opens another chart and keeps it', async () => {
    const { address, goAway } = await host();
    const { page, complaints, close } = await visit({}, '', address);
    await waitUntilKept(page);
    const { files } = await kept(page);
    console.log(`kept for later: ${files} files`);
    await goAway();
    await page.reload({ waitUntil: 'load' });
    await arrived(page);
    await page.getByLabel('Chart as text').fill('| Fm7 | Bb7alt | Eb6 |');
    await play(page).click();
    await page.getByText(/^Bar 2, round 1/).waitFor();
    await page.getByText(/^Bar 1, round 2/).waitFor({ timeout: 20_000 });
    const sounds = await page.evaluate(
      () => performance.getEntriesByType('resource').filter(({ name }) => name.endsWith('.mp3')).length,
    );
    expect(sounds).toBeGreaterThanOrEqual(3);
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await page.getByRole('button', { name: 'Charts', exact: true }).click();
    await page.getByRole('searchbox').fill('vamp');
    await page.locator('#panel ul button').first().click();
    await page.getByRole('button', { name: 'Text', exact: true }).click();
    await page.getByLabel('Title').fill('Kept without a network');
    await page.waitForTimeout(1000);
    await page.reload({ waitUntil: 'load' });
    expect(await page.getByRole('heading', { level: 1 }).innerText()).toBe('Kept without a network');
    expect(complaints).toEqual([]);
    await close();
  });

  it('the whole app is kept: every file that was built', async () => {
    const { address, folder } = await host();
    const { page, close } = await visit({}, '', address);
    await waitUntilKept(page);
    const listed = JSON.parse(
      /FILES = (\[.*?\]);/.exec(readFileSync(join(folder, 'sw.js'), 'utf8'))![1]!,
    ) as readonly string[];
    expect(await kept(page)).toEqual({ versions: 1, files: listed.length });
    expect(listed).toContain('./');
    expect(listed.filter((name) => name.endsWith('.mp3')).length).toBeGreaterThan(5);
    expect(listed.filter((name) => /worklet|worker/.test(name)).length).toBeGreaterThanOrEqual(2);
    await close();
  });

  it('nothing is fetched for later before the page has had its first seconds', async () => {
    const { address } = await host();
    const { page, close } = await visit({}, '', address);
    expect(await page.evaluate(async () => (await caches.keys()).length)).toBe(0);
    await close();
  });
});

describe('a newer version', () => {
  /** Changes the build as a new release would. */
  async function release(folder: string) {
    const path = join(folder, 'index.html');
    const html = readFileSync(path, 'utf8').replace(/(<title>)[^<]*/, '$1Newer');
    writeFileSync(path, html.replace('<body>', '<body data-version="newer">'));
    await writeWorker(folder);
  }
  const isNewer = (page: Page) => page.evaluate(() => document.body.dataset['version'] === 'newer');
  const isReady = async (page: Page) =>
    expect
      .poll(() => page.evaluate(async () => (await navigator.serviceWorker.ready).waiting?.state), {
        timeout: 30_000,
      })
      .toBe('installed');
  const lookForIt = async (page: Page) => {
    await page.evaluate(async () => void (await (await navigator.serviceWorker.ready).update()));
    await isReady(page);
  };

  it('says so when the band is silent, and comes when it is asked to', async () => {
    const { address, folder } = await host();
    const { page, complaints, close } = await visit({}, '', address);
    await waitUntilKept(page);
    await page.getByLabel('Chart as text').fill('| Fm7 | Bb7alt |');
    await play(page).click();
    await page.getByText(/^Bar 2, round 1/).waitFor();
    await release(folder);
    await lookForIt(page);
    const word = page.getByText(/newer version of the page is here/);
    await page.getByText(/^Bar 2, round 2/).waitFor();
    expect(await word.count()).toBe(0);
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await word.waitFor();
    expect(await isNewer(page)).toBe(false);
    await page.getByRole('button', { name: 'Use it now' }).click();
    await page.waitForFunction(() => document.body.dataset['version'] === 'newer');
    await arrived(page);
    expect(await page.getByLabel('Chart as text').inputValue()).toBe('| Fm7 | Bb7alt |');
    expect(complaints).toEqual([]);
    await close();
  });

  it('that was left alone is there at the next start, and fetches only what has changed', async () => {
    const { address, folder } = await host();
    const { page, complaints, close } = await visit({}, '', address);
    await waitUntilKept(page);
    await release(folder);
    const asked: string[] = [];
    page.context().on('request', (request) => asked.push(request.url().slice(address.length)));
    await lookForIt(page);
    expect(await isNewer(page)).toBe(false);
    await page.reload();
    await page.waitForFunction(() => document.body.dataset['version'] === 'newer');
    await arrived(page);
    expect(asked.filter((name) => name.endsWith('.mp3'))).toEqual([]);
    expect(complaints).toEqual([]);
    await close();
  });
});
