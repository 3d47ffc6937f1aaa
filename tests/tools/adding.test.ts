import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { TREATED } from '../../src/engine/scales/palette.ts';
import { TREATMENT_KINDS, TREATMENTS } from '../../src/engine/index.ts';

const ROOT = join(import.meta.dirname, '../..');
const textOf = (path: string) => readFileSync(join(ROOT, path), 'utf8');

describe('the way to add something', () => {
  const commands = [...textOf('src/guide/adding.md').matchAll(/npx vitest run --project (\w+) ([^`]+)`/g)];

  it('has a command for each thing that can be added', () => {
    expect(commands.length).toBeGreaterThanOrEqual(6);
  });

  it.each(commands.map(([, project, rest]) => [project!, rest!.split(' ').filter((word) => word !== '-u')]))(
    'runs tests that are there: %s %j',
    (project, paths) => {
      const config = textOf('vite.config.ts');
      const folders = new RegExp(`name: '${project}',[^}]*?include: \\['tests/\\{([^}]+)\\}`).exec(
        config,
      )?.[1];
      for (const path of paths) {
        expect(existsSync(join(ROOT, path)), path).toBe(true);
        expect(folders?.split(',')).toContain(path.split('/')[1]);
      }
    },
  );

  it('names files that are there', () => {
    const named = [...textOf('src/guide/adding.md').matchAll(/`((?:src|presets|shared)\/[^`]+)`/g)];
    expect(named.length).toBeGreaterThan(5);
    for (const [, path] of named) expect(existsSync(join(ROOT, path!)), path).toBe(true);
  });
});

describe.each(TREATMENT_KINDS.filter((kind) => kind !== 'plain'))('the treatment %s', (kind) => {
  it('has a hue, an edge and a row in the language of the page', () => {
    expect(textOf('src/ui/style/tokens.css')).toContain(`--${kind}: light-dark(`);
    expect(textOf('src/ui/style/kinds.css')).toContain(`.${kind} {`);
    const rows = textOf('src/ui/style/LANGUAGE.md')
      .split('\n')
      .filter((line) => line.startsWith('|'));
    const label = TREATMENTS[kind].label.toLowerCase();
    expect(rows.map((row) => row.split('|')[1]!.trim())).toContain(label);
  });

  it('has a scale that leads over it', () => {
    expect(TREATED.has(kind)).toBe(true);
  });
});
