import type { Page } from 'playwright-core';
import { describe, expect, inject, it } from 'vitest';
import { SIZES } from '../../src/tools/browser.mjs';
import { arrived, knock, visit } from '../helpers/page.ts';

const { address } = inject('site');
const CODE = /\/main-[^/]+\.js$/;
const FACES = /\.woff2$/;

/** Opens the page and keeps the app's code back; the function lets it come. */
async function withoutCode(page: Page, path = '') {
  let open = () => {};
  const gate = new Promise<void>((resolve) => (open = resolve));
  await page.route(CODE, async (route) => {
    await gate;
    await route.continue();
  });
  await page.goto(address + path, { waitUntil: 'commit' });
  await page.waitForFunction(() => {
    const drawn = document.querySelector('#shell');
    return drawn !== null && getComputedStyle(drawn).position === 'fixed';
  });
  await page.locator('#shell .dock').waitFor();
  await page.evaluate(() => document.fonts.ready);
  return async () => {
    open();
    await arrived(page);
    await page.evaluate(() => document.fonts.ready);
  };
}

/** What both the first picture and the app show, by where it is found in either. */
const PARTS = [
  'header',
  'header h1',
  '.names button:nth-child(6)',
  '.strip',
  '.strip .main',
  'main',
  'main .stage',
  '.now .symbol',
  '.next .caption',
  '.scale .name',
  '.scale li:last-child',
  '.panel',
  '.panel textarea',
  '.dock',
  '.dock .play',
  '.dock .tempo',
  '.dock .settings',
  '.dock .alter .what',
];

const boxes = (page: Page, within: string) =>
  page.evaluate(
    ([where, parts]) =>
      parts.map((part) => {
        const { x, y, width, height } = document
          .querySelector(`${where} ${part}`)
          ?.getBoundingClientRect() ?? { x: 0, y: 0, width: 0, height: 0 };
        return { part, box: width * height === 0 ? null : [x, y, width, height] };
      }),
    [within, PARTS] as const,
  );

const play = (page: Page) => page.getByRole('button', { name: 'Play', exact: true });

describe('before its code is there', () => {
  it.each(Object.entries({ ...SIZES, lying: { width: 740, height: 360 } }))(
    'everything stands where it stays, on a %s',
    async (_, viewport) => {
      const { page, complaints, close } = await knock({ viewport });
      const come = await withoutCode(page);
      const before = await boxes(page, '#shell');
      await come();
      const after = await boxes(page, '#app');
      for (const [index, { part, box }] of before.entries()) {
        const there = after[index]!.box;
        expect(box === null, `${part} is to be seen`).toBe(there === null);
        for (const side of [0, 1, 2, 3])
          expect(Math.abs((box?.[side] ?? 0) - (there?.[side] ?? 0)), part).toBeLessThan(3);
      }
      expect(complaints).toEqual([]);
      await close();
    },
  );

  it('shows the chart of a first visit, and only what can be kept can be pressed', async () => {
    const { page, close } = await knock();
    await withoutCode(page);
    expect(await page.locator('#shell .now .symbol').innerText()).toContain('7alt');
    const usable = await page
      .locator('#shell :is(button, input, select, textarea, summary)')
      .evaluateAll((all) =>
        all
          .filter((one) => one.closest('[inert], :disabled') === null)
          .map((one) => `${one.tagName} ${(one.ariaLabel ?? one.textContent).trim()}`),
      );
    for (const name of ['Play', 'Faster', 'Stand', 'Find an action', 'Take the tour'])
      expect(usable).toContain(`BUTTON ${name}`);
    expect(usable.filter((name) => !name.startsWith('BUTTON'))).toEqual([]);
    await close();
  });

  it('is seen in its own faces from the start', async () => {
    const { page, close } = await knock();
    let open = () => {};
    const gate = new Promise<void>((resolve) => (open = resolve));
    // Time stands still where it says how long they are waited for.
    await page.clock.install();
    await page.route(CODE, () => new Promise(() => {}));
    await page.route(FACES, async (route) => {
      await gate;
      await route.continue();
    });
    await page.goto(address, { waitUntil: 'commit' });
    const dock = page.locator('#shell .dock');
    await dock.waitFor({ state: 'attached' });
    await page.waitForFunction(() => [...document.fonts].some(({ status }) => status === 'loading'));
    expect(await dock.isVisible()).toBe(false);
    open();
    await dock.waitFor();
    const missing = await page.evaluate(() =>
      ['450 1em Text', '680 1em Chords'].filter((face) => !document.fonts.check(face)),
    );
    expect(missing).toEqual([]);
    await close();
  });

  it('is seen in others when its own do not come', async () => {
    const { page, close } = await knock();
    for (const never of [FACES, CODE]) await page.route(never, () => new Promise(() => {}));
    await page.goto(address, { waitUntil: 'commit' });
    await page.locator('#shell .dock').waitFor();
    await close();
  });

  it('says what it needs where no scripts run', async () => {
    const { page, close } = await knock({ javaScriptEnabled: false });
    await page.goto(address);
    expect(await page.locator('#shell .now .symbol').isVisible()).toBe(true);
    expect(await page.getByText(/Allow them for this page/).isVisible()).toBe(true);
    expect(await page.locator('#shell .play').isVisible()).toBe(false);
    await close();
  });

  it('says so when the code does not come', async () => {
    const { page, close } = await knock();
    await page.route(CODE, (route) => route.abort());
    await page.goto(address);
    await page
      .getByRole('alert')
      .getByText(/could not be loaded/)
      .waitFor();
    await close();
  });

  it('stands in the light that was chosen', async () => {
    const { page, close } = await visit({ colorScheme: 'light' });
    await page.evaluate(() => {
      const kept: unknown = JSON.parse(localStorage.getItem('vampwright-preferences') ?? '{}');
      localStorage.setItem('vampwright-preferences', JSON.stringify({ ...(kept as object), theme: 'night' }));
    });
    const lightness = () =>
      page.evaluate(() =>
        Number(/[\d.]+/.exec(getComputedStyle(document.querySelector('#shell')!).backgroundColor)),
      );
    await withoutCode(page);
    // From black at 0 to white at 100.
    expect(await lightness()).toBeLessThan(30);
    await close();
  });

  it.each([
    ['who has a chart of their own', ''],
    ['who follows a link', '#anything'],
  ])('shows no chart to one %s', async (_, path) => {
    const { page, close } = await knock();
    if (path === '') {
      await page.goto(address);
      await arrived(page);
      await page.getByLabel('Chart as text').fill('| Fm7 | Bb7 | Eb6 |');
      await page.getByText('Bb7').first().waitFor();
      await page.waitForTimeout(1500);
    }
    const come = await withoutCode(page, path);
    for (const part of [
      'h1',
      '.now .symbol',
      '.scale .name',
      '.panel textarea',
      '.dock .tempo',
      '.dock .settings',
    ])
      expect(await page.locator(`#shell ${part}`).first().isVisible(), part).toBe(false);
    expect(await page.locator('#shell .play button').isVisible()).toBe(true);
    await come();
    if (path === '') expect(await page.getByLabel('Chart as text').inputValue()).toBe('| Fm7 | Bb7 | Eb6 |');
    await close();
  });
});

describe('a press of Play before the band is there', () => {
  it.each([
    ['button', (page: Page) => play(page).click()],
    ['space bar', (page: Page) => page.keyboard.press('Space')],
  ])('is heard as soon as it is, by the %s', async (_, press) => {
    const { page, complaints, close } = await knock();
    const come = await withoutCode(page);
    await press(page);
    await page.locator('#shell').getByText('Loading').waitFor();
    await come();
    await page.getByText(/^Bar 2, round 1/).waitFor();
    expect(complaints).toEqual([]);
    await close();
  });

  it('is taken back by a second one', async () => {
    const { page, close } = await knock();
    const come = await withoutCode(page);
    await play(page).click();
    await page.locator('#shell .play button').click();
    await come();
    await page.waitForTimeout(500);
    expect(await play(page).isVisible()).toBe(true);
    await close();
  });

  it.each(['Play', 'Faster'])('keeps the focus where it was, on %s', async (name) => {
    const { page, close } = await knock();
    const come = await withoutCode(page);
    await page.locator('#shell').getByRole('button', { name, exact: true }).focus();
    await come();
    const here = page.locator('#app').getByRole('button', { name, exact: true });
    expect(await here.evaluate((button) => button === document.activeElement)).toBe(true);
    await close();
  });
});

describe('what else is pressed before the app is there', () => {
  const tempo = (page: Page) =>
    page
      .locator('#app')
      .getByRole('spinbutton', { name: /^Tempo/ })
      .inputValue();

  it.each(Object.entries(SIZES))('is done once it is, in its order, on a %s', async (_, viewport) => {
    const { page, complaints, close } = await knock({ viewport });
    const come = await withoutCode(page);
    const began = Number(await page.locator('#shell .tempo input').first().inputValue());
    const faster = page.locator('#shell').getByRole('button', { name: 'Faster' });
    for (let times = 0; times < 3; times++) await faster.click();
    expect(await faster.evaluate((one) => getComputedStyle(one).outlineStyle)).toBe('dashed');
    await page.locator('#shell').getByRole('button', { name: 'No tour' }).click();
    await page.locator('#shell').getByRole('button', { name: 'Slower' }).click();
    await come();
    await expect.poll(() => tempo(page)).toBe(String(began + 4));
    expect(await page.getByRole('button', { name: 'No tour' }).isVisible()).toBe(false);
    expect(complaints).toEqual([]);
    await close();
  });

  it('is done by its key', async () => {
    const { page, complaints, close } = await knock();
    const come = await withoutCode(page);
    await page.keyboard.press('s');
    await page.keyboard.press('Space');
    await come();
    await page.getByRole('button', { name: 'Stand', pressed: true }).waitFor();
    await page.getByText(/^Bar 2, round 1/).waitFor();
    expect(complaints).toEqual([]);
    await close();
  });
});

it.each(Object.entries(SIZES))('nothing moves as the page comes, on a %s', async (_, viewport) => {
  const watch = () => {
    Object.assign(globalThis, { moved: 0 });
    new PerformanceObserver((list) => {
      for (const { value } of list.getEntries() as (PerformanceEntry & { value: number })[])
        (globalThis as unknown as { moved: number }).moved += value;
    }).observe({ type: 'layout-shift', buffered: true });
  };
  const { page, close } = await visit({ viewport }, '', undefined, watch);
  await page.waitForTimeout(300);
  const moved = await page.evaluate(() => (globalThis as unknown as { moved: number }).moved);
  expect(moved).toBeLessThan(0.02);
  await close();
});
