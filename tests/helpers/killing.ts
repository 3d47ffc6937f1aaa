import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { chromium, type Page } from 'playwright-core';
import { randomFor } from '../../src/engine/index.ts';
import { launchOptions } from '../../src/tools/browser.mjs';

/** What may be lost at most, ms of typing. */
const LOSS = 1000;

/** What came of killing the page again and again. */
export interface Killed {
  /** Starts at which the text was older than what was surely saved. */
  readonly lost: number;
  /** Starts at which the library did not hold exactly the one chart. */
  readonly broken: number;
  /** The most typing that a kill has cost, ms. */
  readonly worst: number;
}

/**
 * Types into the page at `address` without rest, kills the browser and all its helpers at a random moment,
 * as a flat battery does, and looks at what is there at the next start.
 */
export async function killWhileTyping(address: string, times: number, seed: number): Promise<Killed> {
  const profile = mkdtempSync(join(tmpdir(), 'vampwright-killed-'));
  const random = randomFor(seed, 'killed');
  const tally = { lost: 0, broken: 0, worst: 0 };
  let typed: { readonly at: number; readonly number: number }[] = [];
  let surelySaved = 0;
  try {
    for (let time = 0; time <= times; time++) {
      const { browser, page } = await start(profile, address);
      const found = await findings(page);
      if (time > 0) {
        if (found.number < surelySaved) tally.lost++;
        if (found.charts !== 1) tally.broken++;
        const firstLost = typed.find(({ number }) => number > found.number);
        if (firstLost) tally.worst = Math.max(tally.worst, typed.at(-1)!.at - firstLost.at);
      }
      typed = [];
      await page.exposeFunction('typed', (number: number) => typed.push({ at: performance.now(), number }));
      await page.evaluate(typeOn, found.number);
      await new Promise((resolve) => setTimeout(resolve, 1200 + random.next() * 1000));
      const now = performance.now();
      await kill(browser);
      surelySaved = typed.findLast(({ at }) => at < now - LOSS)?.number ?? found.number;
    }
  } finally {
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  }
  return tally;
}

/** In the page: a number more every 25 ms, in the place of the chart. */
function typeOn(from: number): void {
  const { typed } = globalThis as unknown as { typed: (number: number) => void };
  const field = document.querySelector<HTMLTextAreaElement>('#chart-text')!;
  let number = from;
  setInterval(() => {
    field.value = `C7 | "${++number}"`;
    field.dispatchEvent(new Event('input', { bubbles: true }));
    typed(number);
  }, 25);
}

async function findings(page: Page): Promise<{ readonly number: number; readonly charts: number }> {
  const text = await page.locator('#chart-text').inputValue();
  const charts = await page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const open = indexedDB.open('vampwright');
        open.onsuccess = () => {
          const count = open.result.transaction('charts').objectStore('charts').count();
          count.onsuccess = () => resolve(count.result);
        };
      }),
  );
  return { number: Number(/"(\d+)"/.exec(text)?.[1] ?? 0), charts };
}

async function start(profile: string, address: string) {
  const { executablePath, args } = launchOptions();
  const own = ['--headless=new', `--user-data-dir=${profile}`, '--remote-debugging-port=0', 'about:blank'];
  const browser = spawn(executablePath, [...args, ...own], {
    stdio: ['ignore', 'ignore', 'pipe'],
    detached: true,
  });
  const endpoint = await new Promise<string>((resolve) => {
    createInterface({ input: browser.stderr }).on('line', (line) => {
      const match = /DevTools listening on (ws:\S+)/.exec(line);
      if (match) resolve(match[1]!);
    });
  });
  const connected = await chromium.connectOverCDP(endpoint);
  const page = connected.contexts()[0]!.pages()[0]!;
  await page.setViewportSize({ width: 1440, height: 900 });
  await page.goto(address);
  await page.locator('#chart-text').waitFor();
  return { browser, page };
}

async function kill(browser: ChildProcess): Promise<void> {
  const gone = new Promise((resolve) => browser.once('exit', resolve));
  process.kill(-browser.pid!, 'SIGKILL');
  await gone;
}
