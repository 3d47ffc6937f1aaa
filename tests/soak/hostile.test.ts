import { describe, expect, it } from 'vitest';
import { writeProject } from '../../src/storage/file.ts';
import { readPresets } from '../../src/storage/presets.ts';
import { readHurtFiles, readHurtLinks } from '../helpers/hostile.ts';

const projects = readPresets().map((preset) => preset.project);

describe('charts hurt on the way, a hundred thousand of each', () => {
  it('files', () => {
    const tally = readHurtFiles(projects.map(writeProject), 100_000, 1);
    console.info('files', tally);
    expect(tally.opened + tally.refused).toBe(100_000);
  });

  it('links', async () => {
    const tally = await readHurtLinks(projects, 100_000, 2);
    console.info('links', tally);
    expect(tally.opened + tally.refused).toBe(100_000);
  });
});
