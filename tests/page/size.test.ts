import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { expect, inject, it } from 'vitest';

interface Chunk {
  readonly file: string;
  readonly isEntry?: boolean;
  readonly imports?: readonly string[];
}

/** The scripts that the page loads by itself: its entry and, from there, every static import. */
function firstScripts(manifest: Readonly<Record<string, Chunk>>): string[] {
  const wanted = new Set<string>();
  const want = (key: string) => {
    const chunk = manifest[key];
    if (!chunk || wanted.has(chunk.file)) return;
    wanted.add(chunk.file);
    chunk.imports?.forEach(want);
  };
  for (const [key, { isEntry }] of Object.entries(manifest)) if (isEntry) want(key);
  return [...wanted].filter((file) => file.endsWith('.js'));
}

it('loads less than 250 kB of compressed script before play is pressed', () => {
  const { folder } = inject('site');
  const manifest = JSON.parse(readFileSync(join(folder, '.vite/manifest.json'), 'utf8')) as Record<
    string,
    Chunk
  >;
  const scripts = firstScripts(manifest);
  const html = readFileSync(join(folder, 'index.html'), 'utf8');
  const named = [...html.matchAll(/(?:src|href)="\.\/([^"]+\.js)"/g)].map(([, file]) => file);

  expect(named.length).toBeGreaterThan(0);
  expect(scripts).toEqual(expect.arrayContaining(named));

  const sizes = scripts.map((file) => ({ file, bytes: gzipSync(readFileSync(join(folder, file))).length }));
  const total = sizes.reduce((sum, { bytes }) => sum + bytes, 0);
  console.log(`first load: ${(total / 1000).toFixed(1)} kB of script, gzipped`);
  expect(total, JSON.stringify(sizes)).toBeLessThan(250_000);
});
