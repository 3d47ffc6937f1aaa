import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { forbiddenImports } from '../helpers/cruise.ts';

const repo = join(import.meta.dirname, '../..');

/** One import a line: the file, what it imports, and the rule that forbids it ("-" where none does). */
const IMPORTS = `
  src/engine/units/a.ts        ../harmony/index.ts              engine/units
  src/engine/units/b.ts        tonal                            engine/units
  src/engine/units/c.ts        pure-rand                        -
  src/engine/harmony/a.ts      ../units/index.ts                -
  src/engine/harmony/b.ts      ../units/c.ts                    engine/harmony
  src/engine/harmony/c.ts      tonal                            -
  src/engine/chart/a.ts        ../voicing/index.ts              engine/chart
  src/engine/chart/b.ts        tonal                            engine/chart
  src/engine/chart/c.ts        ../index.ts                      engine/chart
  src/engine/voicing/a.ts      ../chart/index.ts                engine/voicing
  src/engine/voicing/b.ts      ../scales/index.ts               -
  src/engine/voicing/c.ts      ../performance/index.ts          engine/voicing
  src/engine/band/a.ts         tone                             engine/band
  src/engine/band/b.ts         node:fs                          engine/band
  src/engine/band/c.ts         ../../../presets/rhythms.json    -
  src/engine/performance/a.ts  ../band/index.ts                 -
  src/engine/performance/b.ts  ../band/c.ts                     engine/performance
  src/engine/arrange.ts        ./chart/index.ts                 -
  src/engine/project.ts        ../storage/index.ts              engine
  src/audio/a.ts               ../engine/index.ts               -
  src/audio/b.ts               ../engine/chart/index.ts         audio
  src/audio/c.ts               svelte                           audio
  src/audio/d.ts               tone                             -
  src/audio/e.ts               type:../ui/ports.ts              -
  src/audio/f.ts               ../ui/ports.ts                   ports-are-types
  src/storage/a.ts             ../audio/index.ts                storage
  src/storage/b.ts             ../main.ts                       composition-root
  src/export/a.ts              ../storage/index.ts              export
  src/ui/A.svelte              tone                             ui
  src/ui/B.svelte              ./A.svelte                       -
  src/ui/c.ts                  tonal                            ui
  src/ui/d.ts                  ../storage/index.ts              ui
  src/main.ts                  ./ui/B.svelte                    -
  src/shop/a.ts                ../engine/index.ts               unlisted
  src/ui/e.ts                  ./f.ts                           circular
  src/ui/f.ts                  ./e.ts                           -
  src/ui/g.ts                  ../../tests/helpers/a.ts         tests-and-tools
  src/ui/h.ts                  ./missing.ts                     unresolved
`
  .trim()
  .split('\n')
  .map((line) => {
    const [file = '', imported = '', rule = ''] = line.trim().split(/\s+/);
    return { file, imported: imported.replace('type:', ''), typeOnly: imported.startsWith('type:'), rule };
  });

const NEIGHBOURS = [
  ...['units', 'harmony', 'scales', 'chart', 'voicing', 'band', 'performance'].map(
    (concept) => `src/engine/${concept}/index.ts`,
  ),
  ...['engine', 'audio', 'storage'].map((layer) => `src/${layer}/index.ts`),
  'src/ui/ports.ts',
  'tests/helpers/a.ts',
];

describe('the table of layers', () => {
  it('holds for every import of the project', { timeout: 60_000 }, async () => {
    expect(await forbiddenImports(repo, 'src', 'tests', 'vite.config.ts')).toEqual([]);
  });
});

describe('the rules of the table bite', () => {
  const root = mkdtempSync(join(tmpdir(), 'layers-'));
  let found: string[];

  const write = (file: string, text: string) => {
    mkdirSync(dirname(join(root, file)), { recursive: true });
    writeFileSync(join(root, file), text);
  };

  beforeAll(async () => {
    for (const file of NEIGHBOURS) write(file, 'export type Value = 1;\n');
    for (const name of ['pure-rand', 'tonal', 'tone', 'svelte']) {
      write(
        `node_modules/${name}/package.json`,
        JSON.stringify({ name, version: '1.0.0', main: 'index.js' }),
      );
      write(`node_modules/${name}/index.js`, 'export {};\n');
    }
    for (const file of ['client', 'disclose-version', 'flags/legacy']) {
      write(`node_modules/svelte/internal/${file}.js`, 'export {};\n');
    }
    write('package.json', '{}');
    write('presets/rhythms.json', '{}');
    for (const { file, imported, typeOnly } of IMPORTS) {
      const line = typeOnly ? `import type { Value } from '${imported}';` : `import '${imported}';`;
      write(file, file.endsWith('.svelte') ? `<script lang="ts">${line}</script>\n` : `${line}\n`);
    }
    found = await forbiddenImports(root, 'src', 'tests');
  }, 60_000);

  afterAll(() => rmSync(root, { recursive: true }));

  it.each(IMPORTS)('$file importing $imported: $rule', ({ file, rule }) => {
    const rules = found.filter((line) => line.includes(`: ${file} →`)).map((line) => line.split(':')[0]);
    if (rule === '-') expect(rules).toEqual([]);
    else expect(rules).toContain(rule);
  });
});
