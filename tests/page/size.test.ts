import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { describe, expect, inject, it } from 'vitest';
import { visit } from '../helpers/page.ts';

/** Bytes: of what the page is made of, and of that with the sound. */
const LIMIT = { page: 155_000, sounding: 250_000 };
/** After this long a page fetches nothing more by itself, in milliseconds. */
const IDLE = 4000;

interface Chunk {
  readonly file: string;
  readonly isEntry?: boolean;
  readonly imports?: readonly string[];
}

/** Runs once the first picture is painted; the page asks for it together with its entry. */
const MAIN = 'main.ts';

/** The scripts that the page loads by itself: its entry, the app and, from there, every static import. */
function firstScripts(manifest: Readonly<Record<string, Chunk>>): string[] {
  const wanted = new Set<string>();
  const want = (key: string) => {
    const chunk = manifest[key];
    if (!chunk || wanted.has(chunk.file)) return;
    wanted.add(chunk.file);
    chunk.imports?.forEach(want);
  };
  for (const [key, { isEntry }] of Object.entries(manifest)) if (isEntry || key === MAIN) want(key);
  return [...wanted].filter((file) => file.endsWith('.js'));
}

const gzipped = (scripts: readonly string[], folder: string) =>
  scripts.reduce((sum, file) => sum + gzipSync(readFileSync(join(folder, file))).length, 0);

describe('the first load', () => {
  const { folder, address } = inject('site');

  it('takes less than 155 kB of compressed script', () => {
    const manifest = readFileSync(join(folder, '.vite/manifest.json'), 'utf8');
    const scripts = firstScripts(JSON.parse(manifest) as Record<string, Chunk>);
    const html = readFileSync(join(folder, 'index.html'), 'utf8');
    const named = [...new Set([...html.matchAll(/(?:src|href)="\.\/([^"]+\.js)"/g)].map(([, file]) => file))];
    const early = named.filter((file) => !file!.includes('/early-'));
    expect(named.length).toBe(early.length + 1);
    expect(new Set(early)).toEqual(new Set(scripts));

    const bytes = gzipped(
      named.map((file) => file!),
      folder,
    );
    console.log(`first load: ${(bytes / 1000).toFixed(1)} kB of script, gzipped`);
    expect(bytes).toBeLessThan(LIMIT.page);
  });

  it('stays below 250 kB with all that is fetched before play is pressed', async () => {
    const { page, close } = await visit();
    await page.waitForTimeout(IDLE);
    const names = await page.evaluate(() => performance.getEntriesByType('resource').map(({ name }) => name));
    const scripts = names.filter((name) => name.endsWith('.js')).map((name) => name.slice(address.length));
    const bytes = gzipped(scripts, folder);
    console.log(`before play: ${(bytes / 1000).toFixed(1)} kB of script, gzipped`);
    expect(scripts.length).toBeGreaterThan(0);
    expect(bytes).toBeLessThan(LIMIT.sounding);
    await close();
  });
});
