import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { isInstalled } from '../../src/tools/install.mjs';

const WANTED = {
  '': { version: '1.0.0' },
  'node_modules/tone': { version: '15.5.44' },
  'node_modules/other-system': { version: '2.0.0', optional: true },
};

const folders: string[] = [];

function project(found: Record<string, unknown> | null): string {
  const folder = mkdtempSync(join(tmpdir(), 'install-')) + '/';
  folders.push(folder);
  writeFileSync(`${folder}package-lock.json`, JSON.stringify({ packages: WANTED }));
  if (found) {
    mkdirSync(`${folder}node_modules`);
    writeFileSync(`${folder}node_modules/.package-lock.json`, JSON.stringify({ packages: found }));
  }
  return folder;
}

afterEach(() => folders.splice(0).forEach((folder) => rmSync(folder, { recursive: true })));

describe('packages are installed', () => {
  it('on a fresh clone', () => {
    expect(isInstalled(project(null))).toBe(false);
  });

  it('when one is missing or another version than the lock file names', () => {
    expect(isInstalled(project({}))).toBe(false);
    expect(isInstalled(project({ 'node_modules/tone': { version: '15.0.4' } }))).toBe(false);
  });

  it('only then', () => {
    expect(isInstalled(project({ 'node_modules/tone': { version: '15.5.44' } }))).toBe(true);
  });
});
