import { readdirSync, readFileSync } from 'node:fs';
import { toJsonSchema } from '@valibot/to-json-schema';
import { Ajv } from 'ajv';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { writeProject } from '../../src/storage/file.ts';
import { ProjectFile } from '../../src/storage/schema.ts';
import { anyProject } from '../helpers/projects.ts';

const ROOT = new URL('../../', import.meta.url);
const PUBLISHED = 'shared/project-file.schema.json';
const load = (path: string): unknown => JSON.parse(readFileSync(new URL(path, ROOT), 'utf8'));
const files = (folder: string) => readdirSync(new URL(folder, ROOT)).map((name) => folder + name);

describe('the published schema of the chart file', () => {
  const isChartFile = new Ajv().compile(load(PUBLISHED) as object);

  /** `npx vitest run tests/storage/schema.test.ts -u` writes it anew. */
  it('is the one files are read by', async () => {
    const schema = `${JSON.stringify(toJsonSchema(ProjectFile), null, 2)}\n`;
    await expect(schema).toMatchFileSnapshot(`../../${PUBLISHED}`);
  });

  it.each([...files('presets/charts/'), ...files('tests/storage/fixtures/v1/')])(
    'accepts %s, by a validator that knows nothing of this program',
    (path) => {
      expect(isChartFile(load(path)), JSON.stringify(isChartFile.errors)).toBe(true);
    },
  );

  it('accepts every file that is written', () => {
    fc.assert(
      fc.property(anyProject, (project) => {
        expect(isChartFile(JSON.parse(writeProject(project))), JSON.stringify(isChartFile.errors)).toBe(true);
      }),
    );
  });

  it.each([
    { chart: [] },
    { vampwright: 2, chart: [] },
    { vampwright: 1 },
    { vampwright: 1, chart: [], band: { tempo: 500 } },
    { vampwright: 1, chart: [], key: 'H major' },
    { vampwright: 1, chart: [], treatments: [{ kind: 'altered', bar: -1, beat: 1, beats: 1 }] },
    { vampwright: 1, chart: [], treatments: [{ kind: 'altered', bar: 1, beat: '1/0', beats: 1 }] },
    { vampwright: 1, chart: [], rules: [{ kind: 'altered' }] },
  ])('refuses %j', (file) => {
    expect(isChartFile(file)).toBe(false);
  });
});
