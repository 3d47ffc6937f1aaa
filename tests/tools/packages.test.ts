import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { filesBelow, REPO } from '../helpers/files.ts';

const textOf = (path: string) => readFileSync(join(REPO, path), 'utf8');

/** Modules whose code the page takes in: neither types, nor what only the tools of the workshop use. */
const needed = new Set(
  filesBelow('src')
    .filter((path) => /\.(ts|svelte)$/.test(path) && !/^src\/tools\/|\.d\.ts$/.test(path))
    .flatMap((path) => [
      ...textOf(path).matchAll(/^\s*(?:import|export)\s(?!type\s)[^;]*?from '([^'.][^']*)'/gm),
    ])
    .map(([, name]) => name!),
);

// One that is found only when a test is under way has the page loaded anew beneath all tests.
it('every package that the page takes in is made ready before its tests begin', () => {
  const packages = Object.keys((JSON.parse(textOf('package.json')) as { dependencies: object }).dependencies);
  const own = [...needed].filter((name) =>
    packages.some((each) => name === each || name.startsWith(`${each}/`)),
  );
  expect(own.length).toBeGreaterThan(10);
  const listed = /optimizeDeps: \{[^}]*?include: \[([^\]]*)\]/.exec(textOf('vite.config.ts'))?.[1];
  for (const name of own) expect(listed, name).toContain(`'${name}'`);
});
