import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { TestProject } from 'vitest/node';
import { build, serve } from '../../src/tools/site.mjs';

declare module 'vitest' {
  interface ProvidedContext {
    /** The built app: the folder it stands in and the address it is served at. */
    site: { readonly folder: string; readonly address: string };
  }
}

/**
 * Builds the app once for all page tests and serves it from a path below the top of its host, as it
 * would stand on a page of somebody's own. Returns what takes it down again.
 */
export default async function setup(project: TestProject) {
  const { vitest } = project;
  // Two projects ask for it; the second finds what the first has built.
  if ('site' in vitest.getRootProject().getProvidedContext()) return undefined;
  const top = mkdtempSync(join(tmpdir(), 'vampwright-site-'));
  const path = 'band/room';
  const folder = join(top, path);
  await build(folder);
  const server = await serve(top);
  vitest.provide('site', { folder, address: `${server.address}${path}/` });
  return async () => {
    await server.close();
    rmSync(top, { recursive: true });
  };
}
