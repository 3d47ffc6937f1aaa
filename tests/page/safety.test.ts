import type { Page } from 'playwright-core';
import { describe, expect, inject, it } from 'vitest';
import { newProject } from '../../src/engine/index.ts';
import { encodeLink } from '../../src/storage/link.ts';
import { POLICY } from '../../src/tools/safety.mjs';
import { arrived, visit } from '../helpers/page.ts';

/** What the browser refused under the page's policy. */
const refused = (page: Page) =>
  page.evaluate(() => (globalThis as unknown as { refused: readonly string[] }).refused);

function watch() {
  const list: string[] = [];
  Object.assign(globalThis, { refused: list });
  addEventListener('securitypolicyviolation', ({ violatedDirective, blockedURI, sample }) =>
    list.push(`${violatedDirective} ${blockedURI} ${sample}`),
  );
}

describe('the page’s policy', () => {
  it('lets in nothing inline, nothing evaluated and no host but its own', () => {
    const all = Object.values(POLICY).join(' ');
    expect(all).not.toMatch(/unsafe|https?:|\*|strict-dynamic/);
    expect(POLICY['default-src']).toBe("'none'");
  });

  it('is kept through a whole session: every sheet, play, alter, a link, a version, a removal', async () => {
    const { page, complaints, close } = await visit({}, '', undefined, watch);
    await page.getByLabel('Chart as text').fill('| Dm7 | G7 | Cmaj7 | H7 |');
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByText(/^Bar 2, round 1/).waitFor();
    await page.keyboard.press('a');
    const sheets = page.getByRole('navigation', { name: 'Panels' }).getByRole('button');
    for (let index = 0; index < (await sheets.count()); index++) {
      const sheet = sheets.nth(index);
      if ((await sheet.getAttribute('aria-expanded')) === 'false') await sheet.click();
      await page.waitForTimeout(100);
    }
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await page.getByRole('button', { name: 'Files', exact: true }).click();
    await page.getByRole('button', { name: 'A link' }).click();
    await page
      .getByRole('img', { name: /as a code/ })
      .first()
      .waitFor();
    await page.getByRole('button', { name: 'Charts', exact: true }).click();
    await page.getByRole('radio', { name: 'Mine' }).check({ force: true });
    await page.getByRole('button', { name: /^More for/ }).click();
    await page.getByRole('button', { name: 'Versions' }).click();
    await page.getByRole('button', { name: 'Keep', exact: true }).click();
    await page.getByRole('button', { name: /^Kept/ }).click();
    await page.getByRole('button', { name: 'Remove', exact: true }).click();
    await page.getByRole('button', { name: 'Take back', exact: true }).first().click();
    await page.keyboard.press('s');
    await page.waitForTimeout(300);
    expect(await refused(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await close();
  });

  it('lets no planted script run, in the page as it is sent', async () => {
    const { address } = inject('site');
    const { page, complaints, close } = await visit({}, '', undefined, watch);
    await page.route(address, async (route) => {
      const response = await route.fetch();
      const planted =
        '<script>globalThis.planted = true</script><img src="x" onerror="globalThis.planted = true">';
      const body = (await response.text()).replace('<body>', `<body>${planted}`);
      await route.fulfill({ response, body });
    });
    await page.goto(address, { waitUntil: 'networkidle' });
    expect(await page.evaluate(() => 'planted' in globalThis)).toBe(false);
    expect((await refused(page)).filter((one) => one.startsWith('script-src'))).toHaveLength(2);
    expect(complaints.some((one) => one.includes('inline'))).toBe(true);
    await arrived(page);
    expect(await page.getByRole('main').count()).toBe(1);
    await close();
  });

  it('makes neither markup nor code of text, and no worker of a foreign address', async () => {
    const { page, close } = await visit();
    const attempts = await page.evaluate(() => {
      const tries: readonly (() => unknown)[] = [
        () => (document.createElement('div').innerHTML = '<b>markup</b>'),
        () => (document.createElement('script').text = 'code'),
        () => new Worker('https://example.org/worker.js'),
        () => new Worker(URL.createObjectURL(new Blob(['code']))),
      ];
      return tries.map((attempt) => {
        try {
          attempt();
          return 'let through';
        } catch {
          return 'refused';
        }
      });
    });
    expect(attempts).toEqual(['refused', 'refused', 'refused', 'refused']);
    await close();
  });

  it('a chart full of markup is shown as it is written, and runs nothing', async () => {
    const evil = '<img src=x onerror="globalThis.planted=1"><script>globalThis.planted=1</script>';
    const project = newProject({
      title: `Evil ${evil}`,
      text: `| C7 | "${evil}" | ${evil} |`,
      tags: [evil, 'javascript:globalThis.planted=1'],
      words: evil,
      source: evil,
    });
    const { page, complaints, close } = await visit({}, `#${await encodeLink(project)}`, undefined, watch);
    expect(await page.getByRole('heading', { level: 1 }).innerText()).toContain(evil);
    const sheets = page.getByRole('navigation', { name: 'Panels' }).getByRole('button');
    for (let index = 0; index < (await sheets.count()); index++) {
      const sheet = sheets.nth(index);
      if ((await sheet.getAttribute('aria-expanded')) === 'false') await sheet.click();
    }
    await page.getByRole('button', { name: 'Charts', exact: true }).click();
    await page.getByRole('button', { name: /^More for Evil/ }).click();
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByText(/^Bar 2, round 1/).waitFor();
    expect(await page.evaluate(() => 'planted' in globalThis)).toBe(false);
    expect(await refused(page)).toEqual([]);
    expect(complaints).toEqual([]);
    await close();
  });
});
