import { spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build, type Rolldown } from 'vite';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { randomFor } from '../../src/engine/index.ts';
import { launchOptions } from '../../src/tools/browser.mjs';

/** How often the browser is killed. */
const TIMES = 200;
/** What may be lost at most, ms of typing. */
const LOSS = 1000;
const SEED = 20250301;

interface Found {
  readonly found: number;
  readonly charts: number;
}

let server: Server;
let script = '';
let profile = '';
const typed: { readonly at: number; readonly number: number }[] = [];
let onFound: (found: Found) => void = () => undefined;

beforeAll(async () => {
  const entry = join(import.meta.dirname, 'typist.ts');
  const output = (await build({
    configFile: false,
    logLevel: 'error',
    build: { write: false, target: 'es2022', lib: { entry, formats: ['es'] } },
  })) as Rolldown.RolldownOutput[];
  script = output[0]!.output[0].code;
  profile = mkdtempSync(join(tmpdir(), 'killed-'));
  server = createServer((request, response) => {
    let body = '';
    request.on('data', (piece: Buffer) => (body += piece.toString()));
    request.on('end', () => {
      if (request.url === '/typed') typed.push({ at: performance.now(), number: Number(body) });
      if (request.url === '/found') onFound(JSON.parse(body) as Found);
      const isScript = request.url === '/typist.js';
      response.setHeader('content-type', isScript ? 'text/javascript' : 'text/html');
      response.end(isScript ? script : '<!doctype html><script type="module" src="/typist.js"></script>');
    });
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
});

afterAll(() => {
  server.close();
  rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
});

/** Starts the browser on the page and waits for what it finds in the library. */
async function start(): Promise<{ readonly browser: ChildProcess; readonly found: Found }> {
  const { port } = server.address() as AddressInfo;
  const found = new Promise<Found>((resolve) => (onFound = resolve));
  const { executablePath, args } = launchOptions();
  const options = ['--headless=new', `--user-data-dir=${profile}`, `http://127.0.0.1:${port}/`];
  const browser = spawn(executablePath, [...args, ...options], {
    stdio: 'ignore',
    detached: true,
  });
  return { browser, found: await found };
}

/** Ends the browser and all its helpers at once, as a flat battery does. */
async function kill(browser: ChildProcess): Promise<void> {
  const gone = new Promise((resolve) => browser.once('exit', resolve));
  process.kill(-browser.pid!, 'SIGKILL');
  await gone;
}

it(`killed ${TIMES} times while typing: at most the last second is lost, and the library opens`, async () => {
  const random = randomFor(SEED, 'killed');
  let surelySaved = 0;
  let worst = 0;
  for (let time = 0; time < TIMES; time++) {
    const { browser, found } = await start();
    expect(found.charts).toBe(time === 0 ? 0 : 1);
    expect(found.found).toBeGreaterThanOrEqual(surelySaved);
    const lost = typed.find(({ number }) => number > found.found);
    const end = typed.at(-1);
    if (lost && end) worst = Math.max(worst, end.at - lost.at);
    typed.length = 0;
    await new Promise((resolve) => setTimeout(resolve, 1000 + random.next() * 1000));
    const now = performance.now();
    await kill(browser);
    surelySaved = typed.findLast(({ at }) => at < now - LOSS)?.number ?? found.found;
  }
  console.info(`most typing lost: ${Math.round(worst)} ms`);
}, 1_800_000);
