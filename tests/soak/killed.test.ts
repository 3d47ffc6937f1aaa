import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { build, serve } from '../../src/tools/site.mjs';
import { killWhileTyping } from '../helpers/killing.ts';

/** How often the browser is killed; `SOAK_KILLS` sets it. */
const TIMES = Number(process.env['SOAK_KILLS'] ?? 200);

let folder: string;
let server: Awaited<ReturnType<typeof serve>>;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'vampwright-site-'));
  await build(folder);
  server = await serve(folder);
}, 120_000);

afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true });
});

it(`killed ${TIMES} times while typing: at most the last second is lost, and the library opens`, async () => {
  const { worst, ...harm } = await killWhileTyping(server.address, TIMES, 20250301);
  console.info(`most typing lost: ${Math.round(worst)} ms`);
  expect(harm).toEqual({ lost: 0, broken: 0 });
}, 3_600_000);
