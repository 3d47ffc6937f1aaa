import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Browser, type Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { launchOptions, SIZES } from '../../src/tools/browser.mjs';
import { build, serve } from '../../src/tools/site.mjs';

/** How long frames are counted, ms, and how much slower than this computer the processor is made meanwhile. */
const SECONDS = 12;
const SLOWER = 4;
const A = 'Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | Em7 A7 | Dm7 G7 |';
const B = 'C7 | % | F7 | % | D7 | % | G7 | G7alt |';
const CHART = [A, A, B, A].join('\n');

const folder = mkdtempSync(join(tmpdir(), 'vampwright-drills-'));
let site: { readonly address: string; readonly close: () => Promise<void> };
let browser: Browser;
let page: Page;

beforeAll(async () => {
  await build(folder);
  site = await serve(folder);
  browser = await chromium.launch(launchOptions());
  const context = await browser.newContext({ viewport: SIZES.phone });
  page = await context.newPage();
  await page.goto(site.address, { waitUntil: 'networkidle' });
  await page.locator('main').waitFor();
  await page.keyboard.press('e');
  await page.getByLabel('Chart as text').fill(CHART);
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  await page.keyboard.press('u');
  await page.getByRole('radio', { name: 'All changes' }).check({ force: true });
  await page.locator('.system svg').first().waitFor();
}, 120_000);
afterAll(async () => {
  await browser.close();
  await site.close();
  rmSync(folder, { recursive: true });
});

/** What a switch on the sheet takes, ms: until its first lines are there, and until all of them are. */
const redraw = (label: string) =>
  page.evaluate(
    (name) =>
      new Promise<{ first: number; all: number; lines: number; notes: number }>((resolve) => {
        const control = [...document.querySelectorAll<HTMLElement>('#panel label')].find(
          (each) => each.textContent.trim() === name,
        )!;
        const before = document.querySelector('.system svg');
        const from = performance.now();
        let first = 0;
        const look = () => {
          const systems = [...document.querySelectorAll('.system')];
          if (document.querySelector('.system svg') !== before && first === 0)
            first = performance.now() - from;
          if (first === 0 || systems.some((system) => system.firstChild === null)) return;
          observer.disconnect();
          const notes = document.querySelectorAll('.score [role="option"]').length;
          resolve({ first, all: performance.now() - from, lines: systems.length, notes });
        };
        const observer = new MutationObserver(look);
        observer.observe(document.querySelector('.score')!, { childList: true, subtree: true });
        control.click();
      }),
    label,
  );

/** When the browser drew a picture in the time to come, ms. Nothing is asked of the page meanwhile. */
async function pictures(ms: number): Promise<readonly number[]> {
  await browser.startTracing(page, { categories: ['viz'] });
  await page.waitForTimeout(ms);
  const trace = JSON.parse((await browser.stopTracing()).toString()) as {
    readonly traceEvents: readonly { readonly name: string; readonly ph: string; readonly ts: number }[];
  };
  return trace.traceEvents
    .filter(({ name, ph }) => name === 'Display::DrawAndSwap' && ph === 'X')
    .map(({ ts }) => ts / 1000)
    .toSorted((a, b) => a - b);
}

/** How long pictures stood, in words. */
function told(spans: readonly number[]): string {
  const sorted = spans.toSorted((a, b) => a - b);
  const mean = spans.reduce((sum, ms) => sum + ms, 0) / spans.length;
  return (
    `${spans.length}, mean ${mean.toFixed(2)} ms, 95 % within ${sorted[Math.floor(spans.length * 0.95)]!.toFixed(1)} ms, ` +
    `worst ${sorted.at(-1)!.toFixed(1)} ms, ${spans.filter((ms) => ms > 25).length} over 25 ms`
  );
}

describe('a drill of 32 bars on a phone', () => {
  it('is drawn', async () => {
    const times = [];
    for (let i = 0; i < 6; i++) times.push(await redraw('Degrees'));
    for (const { first, all, lines, notes } of times) {
      console.log(
        `${notes} notes in ${lines} lines: what is seen after ${first.toFixed(0)} ms, all after ${all.toFixed(0)} ms`,
      );
    }
    expect(times.at(-1)!.notes).toBeGreaterThan(200);
  });

  it('is followed while it is played', async () => {
    await page.getByRole('button', { name: 'Play with the band' }).click();
    await page.locator('.score .lit:not([hidden])').waitFor();
    const devtools = await page.context().newCDPSession(page);
    await devtools.send('Emulation.setCPUThrottlingRate', { rate: SLOWER });
    const drawn = await pictures(1000 * SECONDS);
    const stood = drawn.slice(1).map((at, i) => at - drawn[i]!);
    console.log(`processor ${SLOWER} times slower, pictures drawn: ${told(stood)}`);
    const { frames, places } = await page.evaluate(
      (ms) =>
        new Promise<{ frames: number[]; places: number }>((resolve) => {
          const frames: number[] = [];
          const seen = new Set<string>();
          const lit = document.querySelector<HTMLElement>('.score .lit')!;
          const begun = performance.now();
          let last = begun;
          requestAnimationFrame(function count(now) {
            if (frames.length > 0 || now > last) frames.push(now - last);
            last = now;
            seen.add(lit.style.transform);
            if (now - begun < ms) requestAnimationFrame(count);
            else resolve({ frames: frames.slice(1), places: seen.size });
          });
        }),
      1000 * SECONDS,
    );
    console.log(`frames of a page that asks for each of them: ${told(frames)}`);
    // The playhead moves in every picture, so there are many.
    expect(drawn.length).toBeGreaterThan(20 * SECONDS);
    expect(places).toBeGreaterThan(20);
  });
});
