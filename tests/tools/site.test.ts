import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { serve } from '../../src/tools/site.mjs';

const TYPES = {
  'index.html': 'text/html',
  'band.js': 'text/javascript',
  'charts.json': 'application/json',
  'bass.mp3': 'audio/mpeg',
  'room.wasm': 'application/wasm',
  'page.css': 'text/css',
};

describe('the server of npm start', () => {
  const folder = mkdtempSync(join(tmpdir(), 'serve-'));
  let server: Awaited<ReturnType<typeof serve>>;

  beforeAll(async () => {
    for (const name of Object.keys(TYPES)) writeFileSync(join(folder, name), name);
    mkdirSync(join(folder, 'assets'));
    writeFileSync(join(folder, 'assets/band-1a2b.js'), 'band '.repeat(1000));
    server = await serve(folder);
  });

  afterAll(async () => {
    await server.close();
    rmSync(folder, { recursive: true });
  });

  it.each(Object.entries(TYPES))('sends %s as %s', async (name, type) => {
    const answer = await fetch(server.address + name);
    expect(answer.status).toBe(200);
    expect(answer.headers.get('content-type')?.split(';')[0]).toBe(type);
    expect(await answer.text()).toContain(name);
  });

  it('opens with the page', async () => {
    expect(await (await fetch(server.address)).text()).toBe('index.html');
  });

  it('lets browsers keep what stands under a name with a hash, and asks them to come back for all else', async () => {
    const kept = async (name: string) =>
      (await fetch(server.address + name)).headers.get('cache-control') ?? '';
    expect(await kept('assets/band-1a2b.js')).toBe('public, max-age=31536000, immutable');
    expect(await kept('assets/gone-1a2b.js')).not.toContain('immutable');
    expect(await kept('')).toBe('no-cache');
    expect(await kept('page.css')).toBe('no-cache');
  });

  it('sends scripts compressed', async () => {
    const answer = await fetch(`${server.address}assets/band-1a2b.js`);
    expect(answer.headers.get('content-encoding')).toBe('gzip');
    expect(await answer.text()).toBe('band '.repeat(1000));
  });

  it('sends them in Brotli where that is read, and not again where they are known', async () => {
    const ask = (headers: Record<string, string>) =>
      fetch(`${server.address}assets/band-1a2b.js`, { headers: { 'accept-encoding': 'br', ...headers } });
    const answer = await ask({});
    expect(answer.headers.get('content-encoding')).toBe('br');
    expect(answer.headers.get('content-type')).toBe('text/javascript');
    expect(answer.headers.get('cache-control')).toContain('immutable');
    expect(Number(answer.headers.get('content-length'))).toBeLessThan(100);
    expect(await answer.text()).toBe('band '.repeat(1000));
    expect((await ask({ 'if-none-match': answer.headers.get('etag') ?? '' })).status).toBe(304);
  });

  it('says so when a file is not there', async () => {
    expect((await fetch(`${server.address}piano.mp3`)).status).toBe(404);
  });

  it('shows nothing outside its folder', async () => {
    for (const path of ['..%2f..%2fetc%2fpasswd', '%2e%2e/%2e%2e/etc/passwd']) {
      for (const coding of ['gzip', 'br']) {
        const answer = await fetch(server.address + path, { headers: { 'accept-encoding': coding } });
        expect(answer.status).not.toBe(200);
      }
    }
  });

  it('is heard on this computer only, and takes the next port when one is taken', async () => {
    const second = await serve(folder, Number(new URL(server.address).port));
    expect(new URL(second.address).hostname).toBe('127.0.0.1');
    expect(second.address).not.toBe(server.address);
    expect((await fetch(second.address)).status).toBe(200);
    await second.close();
  });
});
