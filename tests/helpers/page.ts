import { chromium, type Browser, type BrowserContextOptions, type Page } from 'playwright-core';
import { afterAll, inject } from 'vitest';
import { launchOptions, SIZES } from '../../src/tools/browser.mjs';

/** An open page, and what went wrong on it so far. */
export interface Visit {
  readonly page: Page;
  /** Errors and warnings of the console, exceptions, and requests that failed. */
  readonly complaints: readonly string[];
  /** Addresses outside this computer that the page asked for; they were refused. */
  readonly foreign: readonly string[];
  readonly close: () => Promise<void>;
}

let browser: Promise<Browser> | undefined;

/**
 * Opens the built app in a browser of its own storage, as a first visit.
 * @param options of the browser's context: size, colour scheme, …
 * @param path what follows the app's address, e.g. "#…"
 * @param address of a copy of the app
 * @param first runs in the page before anything of its own
 */
export async function visit(
  options: BrowserContextOptions = {},
  path = '',
  address = inject('site').address,
  first?: () => void,
): Promise<Visit> {
  const here = await knock(options, address, first);
  await here.page.goto(address + path, { waitUntil: 'networkidle' });
  await arrived(here.page);
  return here;
}

/** Resolves once the app has taken the place of what is drawn before it, with all its parts. */
export async function arrived(page: Page): Promise<void> {
  await page.locator('#shell').waitFor({ state: 'detached' });
  await page.getByRole('grid', { name: /^Ribbon/ }).waitFor();
}

/** A page as for {@link visit} that has opened nothing yet. */
export async function knock(
  options: BrowserContextOptions = {},
  address = inject('site').address,
  first?: () => void,
): Promise<Visit> {
  browser ??= launch();
  const context = await (await browser).newContext({ viewport: SIZES.desktop, ...options });
  const complaints: string[] = [];
  const foreign: string[] = [];
  await context.route(
    (url) => url.protocol.startsWith('http') && url.host !== new URL(address).host,
    (route) => {
      foreign.push(route.request().url());
      return route.abort();
    },
  );
  const page = await context.newPage();
  if (first !== undefined) await page.addInitScript(first);
  page.on('console', (message) => {
    if (['error', 'warning'].includes(message.type())) complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('requestfailed', (request) => complaints.push(`no answer: ${request.url()}`));
  page.on('response', (response) => {
    if (response.status() >= 400) complaints.push(`${response.status()}: ${response.url()}`);
  });
  return { page, complaints, foreign, close: () => context.close() };
}

/** One browser for all tests of a file; without a name server, so that nothing leaves this computer. */
function launch(): Promise<Browser> {
  const options = launchOptions();
  return chromium.launch({
    ...options,
    args: [...options.args, '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1'],
  });
}

afterAll(async () => {
  await (await browser)?.close();
  browser = undefined;
});
