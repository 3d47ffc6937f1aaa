import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readProject, writeProject } from '../../src/storage/file.ts';
import { readPresets } from '../../src/storage/presets.ts';
import { readHurtFiles, readHurtLinks } from '../helpers/hostile.ts';

const projects = readPresets().map((preset) => preset.project);
const fixture = (name: string) => readFileSync(new URL(`fixtures/v1/${name}`, import.meta.url), 'utf8');
const [everything, step] = [fixture('everything.json'), fixture('step.json')];
const SEED = 20250301;

describe('charts hurt on the way', { timeout: 60_000 }, () => {
  it('five thousand files: each is refused or opened as a sound chart', () => {
    const tally = readHurtFiles([everything, step, ...projects.map(writeProject)], 5000, SEED);
    expect(tally.opened + tally.refused).toBe(5000);
    expect(tally.withNotices).toBeGreaterThan(100);
    expect(tally.refused).toBeGreaterThan(100);
  });

  it('five thousand links: each is refused or opened as a sound chart', async () => {
    const asked = readProject(step);
    expect(asked.ok).toBe(true);
    const tally = await readHurtLinks([...projects, ...(asked.ok ? [asked.value.project] : [])], 5000, SEED);
    expect(tally.opened + tally.refused).toBe(5000);
    expect(tally.withNotices).toBeGreaterThan(100);
    expect(tally.refused).toBeGreaterThan(100);
  });
});
