import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { writeProject } from '../../src/storage/file.ts';
import { readPresets } from '../../src/storage/presets.ts';
import { readHurtFiles, readHurtLinks } from '../helpers/hostile.ts';

const projects = readPresets().map((preset) => preset.project);
const everything = readFileSync(new URL('fixtures/v1/everything.json', import.meta.url), 'utf8');
const SEED = 20250301;

describe('charts hurt on the way', { timeout: 60_000 }, () => {
  it('five thousand files: each is refused or opened as a sound chart', () => {
    const tally = readHurtFiles([everything, ...projects.map(writeProject)], 5000, SEED);
    expect(tally.opened + tally.refused).toBe(5000);
    expect(tally.withNotices).toBeGreaterThan(100);
    expect(tally.refused).toBeGreaterThan(100);
  });

  it('five thousand links: each is refused or opened as a sound chart', async () => {
    const tally = await readHurtLinks(projects, 5000, SEED);
    expect(tally.opened + tally.refused).toBe(5000);
    expect(tally.withNotices).toBeGreaterThan(100);
    expect(tally.refused).toBeGreaterThan(100);
  });
});
